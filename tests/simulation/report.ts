/**
 * Prints how much of what can be known the product knows, on five simulated fleets:
 *
 *     node --import tsx tests/simulation/report.ts --vehicles 400 --grade experience
 *
 * `right`: the library is what is true. `statement`: the truth of each fleet is drawn from the library's prior.
 */
import { parseArgs } from 'node:util'
import { type Grade, simulatedLibrary } from './libraries'
import { seeded } from './random'
import { type Case, forecastCases, type Measure, skillOf } from './skill'
import { truthAsStated, truthDrawn } from './truth'
import { simulateWorld } from './world'

const { values } = parseArgs({
  options: {
    vehicles: { type: 'string', default: '400' },
    grade: { type: 'string', default: 'experience' },
    situation: { type: 'string', default: 'both' },
    days: { type: 'string', default: '90' },
    km: { type: 'string' },
    seed: { type: 'string', default: '1' },
    fleets: { type: 'string', default: 'knot,dunlin,siskin,knot,dunlin' },
  },
})
const horizon = values.km === undefined ? { days: Number(values.days) } : { km: Number(values.km) }
const grade = values.grade as Grade
const FIRST_DAY = 17_900
const AS_OF = [19_300, 19_600, 19_900, 20_200]
const FORECASTERS = ['stated', 'learned', 'central', 'filter'] as const
const MEASURES: Measure[] = (['brier', 'log'] as const).flatMap((loss) =>
  (['truth', 'oracle'] as const).map((against) => ({ loss, against })),
)

function fleet(name: 'knot' | 'dunlin' | 'siskin', drawn: boolean, seed: number): Case[] {
  const library = simulatedLibrary(name, grade)
  const [family] = library.families
  const truth = drawn ? truthDrawn(family!, seeded(seed + 1_000)) : truthAsStated(family!)
  const world = simulateWorld({
    seed,
    library,
    vehicles: Number(values.vehicles),
    firstDay: FIRST_DAY,
    spreadDays: 1_200,
    lastDay: AS_OF.at(-1)!,
    snapshots: AS_OF,
    truths: new Map([[family!.key, truth]]),
  })
  return forecastCases(world, horizon, { learning: true })
}

const cell = (value: number, error: number) => `${value.toFixed(3)} ± ${error.toFixed(3)}`.padStart(17)
const heads = MEASURES.map((m) => `${m.loss}, ${m.against}`.padStart(17))

for (const situation of ['right', 'statement'].filter(
  (s) => values.situation === 'both' || values.situation === s,
)) {
  console.log(`\nlibrary: ${situation}, grade ${grade}, ${values.vehicles} vehicles a fleet`)
  console.log(['fleet'.padEnd(10), 'forecaster'.padEnd(10), ...heads].join(' '))
  const skills = new Map<string, number[]>()
  values.fleets.split(',').forEach((name, n) => {
    const cases = fleet(name as 'knot', situation === 'statement', Number(values.seed) + n)
    for (const forecaster of FORECASTERS) {
      const cells = MEASURES.map((measure) => {
        const { skill, standardError } = skillOf(cases, forecaster, measure)
        const key = `${forecaster} ${measure.loss} ${measure.against}`
        skills.set(key, [...(skills.get(key) ?? []), skill])
        return cell(skill, standardError)
      })
      console.log([name.padEnd(10), forecaster.padEnd(10), ...cells].join(' '))
    }
  })
  for (const forecaster of FORECASTERS) {
    const cells = MEASURES.map(({ loss, against }) => {
      const over = skills.get(`${forecaster} ${loss} ${against}`)!
      const mean = over.reduce((sum, s) => sum + s, 0) / over.length
      const variance = over.reduce((sum, s) => sum + (s - mean) ** 2, 0) / Math.max(1, over.length - 1)
      return cell(mean, Math.sqrt(variance / over.length))
    })
    console.log(['mean'.padEnd(10), forecaster.padEnd(10), ...cells].join(' '))
  }
}

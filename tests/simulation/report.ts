/**
 * Prints how much of what can be known the product knows, on five simulated fleets:
 *
 *     node --import tsx tests/simulation/report.ts --vehicles 400 --grade experience
 *
 * `right`: the library is what is true. `statement`: the truth of each fleet is drawn from the library's prior.
 * `by-two`: every second weak point lasts twice as long as stated, the others half as long. `bad-batch`: in one vehicle
 * of seven the parts of the first weak point last a quarter. `seasons`: the use of all swings by 40 % over the year.
 * `signs`: the rates at which signs are seen lie off what the library says; `signs-known`: the library says those.
 * `ratio` is what was expected in all, over what was true; `slope` that of recalibrating the chances.
 */
import { parseArgs } from 'node:util'
import type { Family } from '@/lib/records/library'
import { calibration } from '@/lib/replay/calibration'
import { type Grade, otherSigns, simulatedLibrary } from './libraries'
import { seeded } from './random'
import { type Case, forecastCases, type Measure, skillOf } from './skill'
import { scaled, type Truth, truthAsStated, truthDrawn } from './truth'
import { simulateWorld, type WorldPlan } from './world'

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

type Situation = Pick<WorldPlan, 'truthOf' | 'season'> & {
  truth: (family: Family, seed: number) => Truth
  /** The rates of signs are others than the library's, and the product is told so or not. */
  otherSigns?: 'told' | 'hidden'
}

const BATCH = 7
const YEAR = 365.25
const SWING = 0.4

const SITUATIONS: Record<string, Situation> = {
  right: { truth: truthAsStated },
  statement: { truth: (family, seed) => truthDrawn(family, seeded(seed + 1_000)) },
  'by-two': { truth: (family) => scaled(truthAsStated(family), (_, index) => (index % 2 === 0 ? 2 : 0.5)) },
  'bad-batch': {
    truth: truthAsStated,
    truthOf: (vehicle, truth) =>
      vehicle % BATCH === 0 ? scaled(truth, (_, index) => (index === 0 ? 0.25 : 1)) : truth,
  },
  signs: { truth: truthAsStated, otherSigns: 'hidden' },
  'signs-known': { truth: truthAsStated, otherSigns: 'told' },
  seasons: { truth: truthAsStated, season: (day) => 1 + SWING * Math.cos((2 * Math.PI * day) / YEAR) },
}

function fleet(name: 'knot' | 'dunlin' | 'siskin', situation: Situation, seed: number): Case[] {
  const { truth, otherSigns: signs, ...more } = situation
  const stated = simulatedLibrary(name, grade)
  const library = signs ? otherSigns(stated, seeded(seed + 2_000)) : stated
  const [family] = library.families
  const world = simulateWorld({
    seed,
    library,
    vehicles: Number(values.vehicles),
    firstDay: FIRST_DAY,
    spreadDays: 1_200,
    lastDay: AS_OF.at(-1)!,
    snapshots: AS_OF,
    truths: new Map([[family!.key, truth(family!, seed)]]),
    ...more,
  })
  const told = signs === 'hidden' ? stated : library
  return forecastCases({ ...world, library: told }, horizon, { learning: true })
}

/** Of what is true on what was said, in log odds: 1 where chances mean what they say. */
function slopeOf(cases: Case[], forecaster: string): number {
  const chance = Float64Array.from(cases, (each) => each.forecasts[forecaster]!)
  const fitted = calibration({ chance, outcome: Float64Array.from(cases, (each) => each.truth) })
  return fitted.ok ? fitted.slope : Number.NaN
}

function ratioOf(cases: Case[], forecaster: string): number {
  const expected = cases.reduce((sum, each) => sum + each.forecasts[forecaster]!, 0)
  return expected / cases.reduce((sum, each) => sum + each.truth, 0)
}

const cell = (value: number, error: number) => `${value.toFixed(3)} ± ${error.toFixed(3)}`.padStart(17)
const heads = MEASURES.map((m) => `${m.loss}, ${m.against}`.padStart(17))

const asked = values.situation === 'both' ? ['right', 'statement'] : values.situation.split(',')
for (const situation of asked) {
  console.log(`\nlibrary: ${situation}, grade ${grade}, ${values.vehicles} vehicles a fleet`)
  console.log(['fleet'.padEnd(10), 'forecaster'.padEnd(10), ...heads, 'ratio', 'slope'].join(' '))
  const skills = new Map<string, number[]>()
  values.fleets.split(',').forEach((name, n) => {
    const cases = fleet(name as 'knot', SITUATIONS[situation]!, Number(values.seed) + n)
    for (const forecaster of FORECASTERS) {
      const cells = MEASURES.map((measure) => {
        const { skill, standardError } = skillOf(cases, forecaster, measure)
        const key = `${forecaster} ${measure.loss} ${measure.against}`
        skills.set(key, [...(skills.get(key) ?? []), skill])
        return cell(skill, standardError)
      })
      const ratio = ratioOf(cases, forecaster).toFixed(2)
      const slope = slopeOf(cases, forecaster).toFixed(2)
      console.log([name.padEnd(10), forecaster.padEnd(10), ...cells, ratio, slope].join(' '))
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

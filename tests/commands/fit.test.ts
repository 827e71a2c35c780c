import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { runFit } from '@/lib/commands/fit'
import { runScore } from '@/lib/commands/score'
import { libraryHash, parseFit } from '@/lib/intake/fit-file'
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { statedNodes } from '@/lib/model/parameter-nodes'
import { formatDay } from '@/lib/units/dates'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'
import { writeFolder } from '../simulation/write-folder'
import { runOn } from './run-on'

const FIRST_DAY = 18_000
const LAST_DAY = FIRST_DAY + 1_500
const library = simulatedLibrary('dunlin', 'experience')

/** A folder of invented records of so many vehicles, with its library. */
function folderOf(vehicles: number): string {
  const dir = mkdtempSync(path.join(tmpdir(), 'gudgeon-fit-'))
  const plan = {
    seed: 3,
    library,
    vehicles,
    firstDay: FIRST_DAY,
    spreadDays: 0,
    lastDay: LAST_DAY,
    snapshots: [],
  }
  writeFolder(dir, simulateWorld(plan).records, library)
  return dir
}

const dir = folderOf(30)
const alone = folderOf(1)
afterAll(() => {
  for (const each of [dir, alone]) rmSync(each, { recursive: true })
})

function run(command: typeof runFit, folder: string, args: string[]) {
  const library = path.join(folder, 'library.json')
  const named = ['--data', folder, '--library', library, '--as-of', formatDay(LAST_DAY)]
  return runOn(command, [...named, ...args])
}

const odds = (rate: number) => rate / (1 - rate)

describe('fit.json', () => {
  test('says of every weak point what its lives taught, in the shape of the contract', async () => {
    const { code, out } = await run(runFit, dir, [])
    expect(code).toBe(0)
    const written = JSON.parse(out)
    expect(written).toMatchObject({ asOf: formatDay(LAST_DAY), library: libraryHash(library) })
    const [family] = library.families
    const learned = written.families[family!.key].weakPoints
    expect(Object.keys(learned)).toEqual(family!.weakPoints.map(({ key }) => key))
    for (const point of family!.weakPoints) {
      const { shape, scale, pfMean, se, lives, nodes, covariance } = learned[point.key]
      expect(shape * scale).toBeGreaterThan(0)
      expect(pfMean > 0).toBe(point.warning > 0)
      expect(se.logScale).toBeGreaterThan(0)
      expect(se.logScale).toBeLessThanOrEqual(GRADE_SPREAD[point.confidence].logScale)
      expect(lives.running).toBeGreaterThan(0)
      expect(nodes.reduce((a: number, [, , , weight]: number[]) => a + weight!, 0)).toBeCloseTo(1, 9)
      expect(covariance.length).toBeGreaterThanOrEqual(point.warning > 0 ? 3 : 2)
      expect(Object.keys(learned[point.key].revisions)).toEqual(point.revisions.map(({ key }) => key))
    }
  })

  test('counts the same lives beside, without a model', async () => {
    const { out } = await run(runFit, dir, [])
    const [family] = library.families
    const learned = JSON.parse(out).families[family!.key].weakPoints
    for (const { key } of family!.weakPoints) {
      const { lives, observed } = learned[key]
      const { ends, steps } = observed
      expect(ends.failed).toBe(lives.failed)
      expect(ends.developing).toBe(lives.developing)
      expect(ends.sound).toBe(lives.sound)
      expect(ends.renewed + ends.running).toBe(lives.running)
      expect(ends.unknownStart + ends.beforeWatch).toBe(lives.leftOut)
      expect(steps.from).toBe(0)
      const shares = steps.shares.map(([, lasts]: number[]) => lasts)
      expect(shares).toEqual(shares.toSorted((a: number, b: number) => b - a))
    }
    const older = structuredClone(JSON.parse(out))
    for (const life of Object.values<{ observed?: object }>(older.families[family!.key].weakPoints))
      delete life.observed
    expect(parseFit(JSON.stringify(older), library).ok).toBe(true)
  })

  test('gives the scores that learning on the spot gives, to the last digit', async () => {
    const file = path.join(dir, 'fit.json')
    expect((await run(runFit, dir, ['--out', file])).code).toBe(0)
    const fresh = await run(runScore, dir, [])
    const again = await run(runScore, dir, ['--fit', file])
    expect(again.out).toBe(fresh.out)
    expect((await run(runScore, dir, ['--no-learning'])).out).not.toBe(fresh.out)
  })

  test('says how often each sign is seen, as learned; one that does not is read, and moves the scores', async () => {
    const { out } = await run(runFit, dir, [])
    const { signs, ...older } = JSON.parse(out)
    const [family] = library.families
    for (const { key, causes } of family!.signs) {
      const { leak, detect } = signs[family!.key][key]
      expect(Object.keys(detect)).toEqual(causes.map(({ weakPoint }) => weakPoint))
      for (const rate of [leak, ...Object.values(detect)]) {
        expect(rate).toBeGreaterThan(0)
        expect(rate).toBeLessThan(1)
      }
    }
    const [file, before] = [path.join(dir, 'with.json'), path.join(dir, 'without.json')]
    writeFileSync(file, out)
    writeFileSync(before, JSON.stringify(older))
    const withSigns = await run(runScore, dir, ['--fit', file])
    const without = await run(runScore, dir, ['--fit', before])
    expect(without.code).toBe(0)
    expect(without.out).not.toBe(withSigns.out)
  })

  test('says in one line a family how many rates of signs were learned, and which moved farthest', async () => {
    const { out, said } = await run(runFit, dir, [])
    const [family] = library.families
    const learned = JSON.parse(out).signs[family!.key]
    const moved = family!.signs.flatMap(({ key, leak, causes }) =>
      [
        { stated: leak, now: learned[key].leak, words: `${key} without cause` },
        ...causes.map(({ weakPoint, detect }) => ({
          stated: detect,
          now: learned[key].detect[weakPoint],
          words: `${key} with ${weakPoint}`,
        })),
      ].map((rate) => ({ ...rate, odds: Math.abs(Math.log(odds(rate.now) / odds(rate.stated))) })),
    )
    const own = said.filter((line) => line.startsWith(`${family!.key}: rates of signs learned: `))
    expect(own).toHaveLength(1)
    const count = moved.filter(({ stated, now }) => now !== stated).length
    const [first] = moved.toSorted((a, b) => b.odds - a.odds)
    const figures = [first!.stated, first!.now].map((rate) => Number(rate.toPrecision(2)))
    expect(own[0]).toContain(
      `: ${count} of ${moved.length}; farthest from stated: ${first!.words} ${figures.join(' to ')};`,
    )
  })

  test('is refused with the place where it does not fit', async () => {
    const file = path.join(dir, 'bad.json')
    const { out } = await run(runFit, dir, [])
    const [family] = library.families
    const bad = (change: (life: Record<string, unknown>) => void) => {
      const content = JSON.parse(out)
      change(content.families[family!.key].weakPoints[family!.weakPoints[0]!.key])
      writeFileSync(file, JSON.stringify(content))
      return run(runScore, dir, ['--fit', file])
    }
    const place = `families.${family!.key}.weakPoints.${family!.weakPoints[0]!.key}`
    for (const [change, words] of [
      [
        (life: Record<string, unknown>) => (life.shape = -1),
        `${place}.shape: found -1, expected more than 0`,
      ],
      [(life: Record<string, unknown>) => (life.nodes = []), `${place}.nodes: found no nodes, expected some`],
      [
        (life: Record<string, unknown>) => (life.covariance = [[1]]),
        `${place}.covariance: found 1 rows, which do not fit the library`,
      ],
    ] as const) {
      const { code, said } = await bad(change)
      expect(code).toBe(2)
      expect(said.at(-1)).toBe(`--fit ${file}: ${words}`)
    }
  })
})

test('without records of lives the library’s statement comes back, exactly', async () => {
  const vehicles = readFileSync(path.join(alone, 'vehicles.csv'), 'utf8').split('\n')
  writeFileSync(path.join(alone, 'vehicles.csv'), `${vehicles[0]}\n`)
  for (const kind of ['readings', 'codes', 'checks', 'repairs', 'changes'])
    rmSync(path.join(alone, `${kind}.csv`), { force: true })
  const { out, said } = await run(runFit, alone, [])
  const [family] = library.families
  const read = parseFit(out, library)
  if (!read.ok) throw new Error(read.errors[0]?.message)
  for (const point of family!.weakPoints) {
    const life = read.value.fit.families.get(family!.key)!.weakPoints.get(point.key)!
    const central = fromStatement({ ...point.onset, warning: point.warning })
    expect(life.mode).toEqual(central)
    expect(life.nodes).toEqual(statedNodes(central, GRADE_SPREAD[point.confidence]))
    expect(read.value.fit.families.get(family!.key)!.signs.size).toBe(0)
    expect(said).toContainEqual(expect.stringMatching(`^${family!.key}: rates of signs learned: 0 of \\d+$`))
    expect(said).toContain(`${family!.key}, ${point.key}: no lives on record; the library's statement stands`)
  }
})

import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runReplay } from '@/lib/commands/replay'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'
import { writeFolder } from '../simulation/write-folder'
import { runOn } from './run-on'

let dir = ''
const at = (name: string) => path.join(dir, name)

beforeAll(async () => {
  dir = await mkdtemp(path.join(tmpdir(), 'gudgeon-'))
  const library = simulatedLibrary('knot', 'experience')
  const { records } = simulateWorld({
    seed: 11,
    library,
    vehicles: 3,
    firstDay: 18_900,
    spreadDays: 0,
    lastDay: 20_000,
    snapshots: [],
  })
  writeFolder(dir, records, library)
})
afterAll(() => rm(dir, { recursive: true }))

/** Runs the command as it would be typed; `--data` and `--library` are added unless the arguments name them. */
async function replay(args: string) {
  const named = (option: string, value: string) => (args.includes(option) ? [] : [option, value])
  const argv = [
    ...named('--data', dir),
    ...named('--library', at('library.json')),
    ...args.split(' ').filter(Boolean),
  ]
  return runOn(runReplay, argv)
}

const SPAN = '--from 2024-04-01 --to 2024-06-10'

describe('replay.json', () => {
  test('has every cut-off and all together, for the product and its rivals', async () => {
    const { code, out, said } = await replay(`${SPAN} --every 30 --days 60`)
    expect(code).toBe(0)
    const result = JSON.parse(out)
    expect(result).toMatchObject({ from: '2024-04-01', to: '2024-06-10', every: 30, days: 60 })
    expect(result.cutOffs.map((each: { asOf: string }) => each.asOf)).toEqual([
      '2024-04-01',
      '2024-05-01',
      '2024-05-31',
    ])
    for (const { judgements, money } of [...result.cutOffs, result.overall]) {
      const forecasters = ['product', 'ages', 'library', 'mileage', 'intervals']
      expect([Object.keys(judgements), Object.keys(money)]).toEqual([forecasters, forecasters])
      expect(Object.keys(judgements.product)).toEqual([
        'components',
        'expected',
        'observed',
        'imputed',
        'unnoted',
        'interval',
        'ratio',
        'brier',
        'bins',
        'calibration',
        'concordance',
        'netBenefit',
      ])
    }
    expect(said.at(-1)).toBe('judged 3 of 3 days')
  })

  test('is written to a file, the same as to standard output', async () => {
    const { code, out } = await replay(`${SPAN} --every 90 --out ${at('replay.json')}`)
    expect([code, out]).toEqual([0, ''])
    expect(await readFile(at('replay.json'), 'utf8')).toBe((await replay(`${SPAN} --every 90`)).out)
  })

  test('says whether the product learned, and keeps to the library where it did not', async () => {
    const [learned, stated] = await Promise.all(
      ['', ' --no-learning'].map(async (more) => JSON.parse((await replay(`${SPAN} --every 90${more}`)).out)),
    )
    expect([learned.learned, stated.learned]).toEqual([true, false])
    const { product, library } = stated.overall.judgements
    expect(product).toEqual(library)
    expect(learned.overall.judgements.product.expected).not.toBe(product.expected)
  })

  test('holds no number that JSON has none for', async () => {
    // Before anything was on record: no case, no failure.
    const { code, out } = await replay('--from 2020-01-01 --to 2020-01-01')
    expect(code).toBe(0)
    expect(JSON.parse(out).overall.judgements.product).toMatchObject({
      components: 0,
      expected: 0,
      ratio: null,
      brier: null,
      concordance: null,
      calibration: { ok: false, reason: 'one-outcome' },
    })
  })
})

test('rejected rows are exit code 1 with --strict', async () => {
  const codes = at('codes.csv')
  const before = await readFile(codes, 'utf8')
  await writeFile(codes, 'unit,seen_on,code\nV9,2024-05-01,P0301\n')
  expect((await replay(`${SPAN} --every 90`)).code).toBe(0)
  expect((await replay(`${SPAN} --every 90 --strict`)).code).toBe(1)
  await writeFile(codes, before)
})

describe('what cannot begin ends with 2 and one clear line', () => {
  test.each<[string, RegExp]>([
    ['', /^error: required option '--from <date>' not specified$/],
    ['--from 2024-04-01', /^error: required option '--to <date>' not specified$/],
    ['--from 1.4.2024 --to 2024-05-01', /It must be a date that exists, written like 2026-06-30\.$/],
    ['--from 2024-05-01 --to 2024-04-01', /^--to 2024-04-01: lies before --from 2024-05-01$/],
    ['--from 2024-05-01 --to 2026-06-30', /^--to 2026-06-30: what happened after it is not known yet$/],
    [`${SPAN} --every 0`, /It must be a number above 0 and up to 3650\.$/],
    [`${SPAN} --every 7.5`, /^--every 7\.5: must be whole days$/],
    [`${SPAN} --days 0.5`, /^--days 0\.5: must be whole days$/],
    ['--from 2000-01-01 --to 2024-06-01 --every 1', /^--every 1: that would be more than 1000 days/],
    [`${SPAN} --dayz 90`, /unknown option '--dayz' \(Did you mean --days\?\)$/],
    [`${SPAN} --data /nowhere/at/all`, /^\/nowhere\/at\/all: is no folder that can be read$/],
    [`${SPAN} --every 90 --out /nowhere/at/all.json`, /--out \/nowhere\/at\/all\.json: cannot be written/],
  ])('%s', async (args, said) => {
    const run = await replay(args)
    expect([run.code, run.out]).toEqual([2, ''])
    expect(run.said.at(-1)).toMatch(said)
    expect(run.said.at(-1)).not.toContain('\n')
  })
})

test('--help tells how to use it and ends well', async () => {
  const { code, out } = await replay('--help')
  expect(code).toBe(0)
  expect(out).toContain('--every')
})

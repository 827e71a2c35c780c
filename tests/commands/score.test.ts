import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { parse } from 'csv-parse/sync'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { runScore } from '@/lib/commands/score'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { runOn } from './run-on'

let dir = ''
const at = (name: string) => path.join(dir, name)

beforeEach(async () => {
  dir = await mkdtemp(path.join(tmpdir(), 'gudgeon-'))
  await mkdir(at('data'))
  await writeFile(at('library.json'), JSON.stringify(EXAMPLE_LIBRARY))
  await put(
    'vehicles.csv',
    'unit,family,in_service_on,status\nV1,plover-22,2020-01-01,active\nV2,plover-20,2020-01-01,active\nV3,plover-22,2020-01-01,retired\n',
  )
  await put(
    'readings.csv',
    'unit,read_on,odometer_km\nV1,2020-01-01,0\nV1,2023-01-01,60000\nV1,2026-01-01,120000\nV1,2026-06-01,130000\n',
  )
})
afterEach(() => rm(dir, { recursive: true }))

const put = (name: string, text: string) => writeFile(path.join(dir, 'data', name), text)

/** Runs the command as it would be typed; `--data` and `--library` are added unless the arguments name them. */
async function score(args: string, now = '2026-06-30T12:00:00Z') {
  const named = (option: string, value: string) => (args.includes(option) ? [] : [option, value])
  const argv = [
    ...named('--data', at('data')),
    ...named('--library', at('library.json')),
    ...args.split(' ').filter(Boolean),
  ]
  return runOn(runScore, argv, now)
}

const rowsOf = (csv: string): Record<string, string>[] => parse(csv, { columns: true })

describe('scores.csv', () => {
  test('has the columns of the contract, in their order', async () => {
    const { code, out } = await score('--as-of 2026-06-30 --days 90 --no-learning')
    expect(code).toBe(0)
    expect(out.split('\r\n')[0]).toBe(
      'unit,weak_point,position,as_of,horizon_days,horizon_km,p_fail,p_low,p_high,p_developing,remaining_km_p50,cost_of_waiting,advice',
    )
  })

  test('has one row a component of every vehicle that is scored', async () => {
    const rows = rowsOf((await score('--as-of 2026-06-30')).out)
    expect(rows.map(({ unit, weak_point, position }) => [unit, weak_point, position].join(' '))).toEqual([
      'V1 injector 1',
      'V1 injector 2',
      'V1 injector 3',
      'V1 injector 4',
      'V1 cover-seep 1',
      'V1 pump-gasket 1',
    ])
    for (const row of rows) {
      expect(row).toMatchObject({ as_of: '2026-06-30', horizon_days: '90', horizon_km: '' })
      const [low, chance, high] = [Number(row.p_low), Number(row.p_fail), Number(row.p_high)]
      expect(chance).toBeGreaterThan(0)
      expect(chance).toBeLessThan(1)
      expect(low).toBeLessThanOrEqual(chance)
      expect(high).toBeGreaterThanOrEqual(chance)
      expect(row.p_fail?.replace(/^0\.0*|e.*/g, '').length).toBeGreaterThanOrEqual(6)
    }
  })

  test('tells the horizon in km where it was asked for so', async () => {
    const [row] = rowsOf((await score('--km 15000')).out)
    expect(row).toMatchObject({ horizon_days: '', horizon_km: '15000' })
  })

  test('is written to a file, the same as to standard output', async () => {
    const { code, out } = await score(`--out ${at('scores.csv')}`)
    expect([code, out]).toEqual([0, ''])
    expect(await readFile(at('scores.csv'), 'utf8')).toBe((await score('--out -')).out)
  })

  test('is as of today in the time zone of the settings, unless a date is given', async () => {
    await put('settings.json', '{"timeZone":"Asia/Tokyo"}')
    const [row] = rowsOf((await score('', '2026-06-30T20:00:00Z')).out)
    expect(row?.as_of).toBe('2026-07-01')
  })

  test('does not see records after the as-of date', async () => {
    const before = (await score('--as-of 2026-01-15')).out
    await put('codes.csv', 'unit,seen_on,code\nV1,2026-05-01,P0301\n')
    expect((await score('--as-of 2026-01-15')).out).toBe(before)
    expect((await score('--as-of 2026-05-15')).out).not.toBe(before)
  })
})

test('progress and what was found go to standard error, results alone to standard output', async () => {
  const { out, said } = await score('')
  expect(rowsOf(out)).toHaveLength(6)
  expect(said.filter((line) => /^followed \d+ of \d+ vehicles$/.test(line))).not.toHaveLength(0)
  expect(said.some((line) => line.startsWith('vehicles.csv:3: family: "plover-20"'))).toBe(true)
  expect(said.at(-1)).toMatch(/^scored \d+ of \d+ vehicles$/)
})

describe('rejected rows', () => {
  beforeEach(() => put('codes.csv', 'unit,seen_on,code\nV1,2026-05-01,P0301\nV9,2026-05-01,P0301\n'))

  test('are handed back in the folder, the rest is scored', async () => {
    const { code, out, said } = await score('')
    expect(code).toBe(0)
    expect(rowsOf(out)).toHaveLength(6)
    expect(said).toContain(
      'codes.csv:3: unit: "V9" is no vehicle that was taken in from vehicles.csv; did you mean "V1"?',
    )
    expect(rowsOf(await readFile(path.join(dir, 'data/rejected/codes.csv'), 'utf8'))).toEqual([
      {
        line: '3',
        column: 'unit',
        reason: '"V9" is no vehicle that was taken in from vehicles.csv; did you mean "V1"?',
        row: 'V9,2026-05-01,P0301',
      },
    ])
  })

  test('are exit code 1 with --strict', async () => {
    expect((await score('--strict')).code).toBe(1)
    await put('codes.csv', 'unit,seen_on,code\nV1,2026-05-01,P0301\n')
    expect((await score('--strict')).code).toBe(0)
  })
})

describe('what cannot begin ends with 2 and one clear line', () => {
  test.each<[string, RegExp]>([
    ['--days many', /--days.*It must be a number above 0 and up to 3650\.$/],
    ['--days 0', /It must be a number above 0/],
    ['--days -5', /--days/],
    ['--days 90 --km 5', /^give --days or --km, not both$/],
    ['--km 1e9', /It must be a number above 0 and up to 1000000\.$/],
    ['--as-of 30.6.2026', /It must be a date that exists, written like 2026-06-30\.$/],
    ['--as-of 2026-02-30', /It must be a date that exists/],
    ['--dayz 90', /unknown option '--dayz' \(Did you mean --days\?\)$/],
    ['more', /too many arguments/],
    ['--fit /nowhere/fit.json', /^--fit \/nowhere\/fit\.json: is no file that can be read$/],
    ['--fit fit.json --no-learning', /^give --fit or --no-learning, not both$/],
    ['--data /nowhere/at/all', /^\/nowhere\/at\/all: is no folder that can be read$/],
    ['--library /nowhere/at/all.json', /^\/nowhere\/at\/all\.json: is no library file that can be read$/],
    ['--out /nowhere/at/all.csv', /--out \/nowhere\/at\/all\.csv: cannot be written/],
  ])('%s', async (args, said) => {
    const run = await score(args)
    expect([run.code, run.out]).toEqual([2, ''])
    expect(run.said.at(-1)).toMatch(said)
    expect(run.said.at(-1)).not.toContain('\n')
    expect(run.said.join('\n')).not.toMatch(/\bat .*\.ts:\d+/)
  })

  test('without a folder or a library', async () => {
    const said: string[] = []
    const io = { write: () => {}, say: (line: string) => void said.push(line), now: new Date(0) }
    expect(await runScore([], io)).toBe(2)
    expect(said).toEqual(["error: required option '--data <dir>' not specified"])
  })

  test('with an empty folder', async () => {
    await mkdir(at('empty'))
    expect((await score(`--data ${at('empty')}`)).said).toEqual([
      `${at('empty')}: is empty; expected vehicles.csv, readings.csv, codes.csv, checks.csv, repairs.csv, changes.csv, parts.csv, settings.json`,
    ])
  })

  test('with a library that loops, or is none', async () => {
    const [family] = EXAMPLE_LIBRARY.families
    const upstream = [{ from: 'injector', to: 'injector', strength: 2 }]
    await writeFile(
      at('loop.json'),
      JSON.stringify({ ...EXAMPLE_LIBRARY, families: [{ ...family, upstream }] }),
    )
    expect(await score(`--library ${at('loop.json')}`)).toMatchObject({
      code: 2,
      said: [
        `${at('loop.json')}: families[plover-22].upstream: found a loop: injector → injector; expected damage to go one way`,
      ],
    })
    expect((await score(`--library ${at('data/vehicles.csv')}`)).said[0]).toContain('found no JSON')
  })

  test('with prices in another currency', async () => {
    await put('settings.json', '{"currency":"EUR"}')
    await writeFile(at('library.json'), JSON.stringify({ ...EXAMPLE_LIBRARY, currency: 'GBP' }))
    const { code, said } = await score('')
    expect([code, said.length]).toEqual([2, 1])
    expect(said[0]).toContain('prices are not converted')
  })
})

describe('a vehicle with few or many readings', () => {
  const day = (n: number) => new Date(Date.UTC(2000, 0, 1) + n * 86_400_000).toISOString().slice(0, 10)
  const readings = (count: number) =>
    Array.from(
      { length: count },
      (_, i) => `V1,${day(i % 9000)},${(i % 9000) * 30 + Math.floor(i / 9000)}\n`,
    ).join('')

  test.each([0, 1, 10_000])('%i readings', async (count) => {
    await put('readings.csv', `unit,read_on,odometer_km\n${readings(count)}`)
    const { code, out } = await score('--as-of 2026-06-30')
    const chances = rowsOf(out).map((row) => Number(row.p_fail))
    expect([code, chances.length]).toEqual([0, 6])
    expect(chances.every((chance) => chance >= 0 && chance <= 1)).toBe(true)
  })
})

test('--help tells how to use it and ends well', async () => {
  const { code, out } = await score('--help')
  expect(code).toBe(0)
  expect(out).toContain('--as-of')
})

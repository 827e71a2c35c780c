/** What a workbook does not say is not said to be good: for each kind of silence, the score that would have been wrong. */
import { describe, expect, test } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { noRecords, TABLE_KINDS } from '@/lib/intake/tables'
import type { Answers } from '@/lib/intake/workbook/mapping'
import type { Library } from '@/lib/records/library'
import { engine, point, sign } from '../../scoring/one-vehicle'
import { recordsOf } from '../../simulation/record-rows'
import { TODAY } from '../folder'
import { bringIn } from './bring-in'
import { sheetOf, type Written } from './messy-workbooks'

const library = engine(
  [
    point('injector', 90_000, 150_000, 6_000, {
      component: 'Fuel injector',
      positions: 4,
      revisions: [{ key: 'mk2', lifeFactor: 4 }],
    }),
    point('valve', 90_000, 150_000, 9_000, { component: 'Inlet valve' }),
  ],
  [
    sign('misfire', 'code', { injector: 0.7 }, { codes: ['P030#'] }),
    sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'] }),
    sign('soot', 'visual', { valve: 0.7 }, { label: 'Soot' }),
  ],
)

/** The chances of failing within 90 days, by weak point and position, of the workbook's one vehicle. */
function chances(rows: Written[][], answers: Partial<Answers>, own: Library = library) {
  const brought = bringIn({ sheets: [sheetOf('Fleet', rows)] }, { library: own, answers })
  expect(brought.rejected).toEqual([])
  const lists = noRecords()
  for (const { records } of brought.read.tables)
    for (const kind of TABLE_KINDS) Object.assign(lists, { [kind]: [...lists[kind], ...records[kind]] })
  const scored = scoreFleet({
    records: recordsOf(lists),
    library: own,
    asOf: TODAY,
    horizons: [{ days: 90 }],
  })
  const [vehicle] = scored.vehicles
  return (weakPoint: string, position = 1): number => {
    const found = vehicle?.components.find((c) => c.weakPoint === weakPoint && c.position === position)
    if (!found) throw new Error(`no ${weakPoint} ${position}`)
    return found.pFail
  }
}

const READINGS = ['2025-09-30', '2025-12-31', '2026-03-31', '2026-06-29'].map(
  (day, i) => [day, 118_400 + i * 4_000] as const,
)

const sheet = (column: string, at: Record<string, string>): Written[][] => [
  ['Vehicle', 'Engine', 'Date', 'Odo', column],
  ...READINGS.map(([day, km]) => ['V1', 'Plover 2.2', day, km, at[day] ?? null]),
]

describe('what is not written', () => {
  test('codes that are not written were not read as absent', () => {
    const codes = sheet('Codes', { '2026-06-29': 'P0301' })
    const written = chances(codes, { looksCover: 'written' })
    const nothing = chances(sheet('Codes', {}), {})
    const all = chances(codes, { looksCover: 'all' })
    expect(written('injector', 1)).toBeGreaterThan(3 * nothing('injector', 1))
    expect(written('valve')).toBeCloseTo(nothing('valve'), 3)
    // Taken as a look at everything, the valve would seem hardly to be going.
    expect(all('valve')).toBeLessThan(0.7 * written('valve'))
    expect(chances(codes, {})('valve')).toBe(written('valve'))
  })

  test('"no codes" is a look, and a blank cell is none', () => {
    const none = chances(sheet('Codes', { '2026-06-29': 'no codes', '2026-03-31': 'P0000' }), {})
    const blank = chances(sheet('Codes', { '2026-03-31': 'P0000' }), {})
    expect(none('valve')).toBeLessThan(0.7 * blank('valve'))
  })

  test('"ok" says of no sign that it was looked for, until somebody answers that all were', () => {
    const ok = sheet('Symptoms', { '2026-06-29': 'ok', '2026-03-31': 'rattles' })
    const nothing = chances(sheet('Symptoms', { '2026-03-31': 'rattles' }), {})
    expect(chances(ok, {})('valve')).toBeCloseTo(nothing('valve'), 9)
    expect(chances(ok, { looksCover: 'all' })('valve')).toBeLessThan(0.7 * nothing('valve'))
  })

  test('before the first record at 118,400 km nothing is known, so that parts may be younger than the vehicle', () => {
    const rows = sheet('Remarks', {})
    const none = chances(rows, { before: 'none' })
    const full = chances(rows, { before: 'full' })
    expect(full('valve')).toBeGreaterThan(1.2 * none('valve'))
    expect(chances(rows, {})('valve')).toBe(none('valve'))
  })

  test('one of four injectors, nobody knows which, makes none of them new', () => {
    const rows = sheet('Work', { '2025-12-31': 'repl inj' })
    const one = chances(rows, { whichOfSeveral: 'one-unknown' })
    const nothing = chances(sheet('Work', { '2025-12-31': 'oil' }), {})
    const all = chances(rows, { whichOfSeveral: 'all' })
    for (const position of [1, 2, 3, 4]) {
      expect(one('injector', position)).toBeCloseTo(nothing('injector', position), 9)
      expect(all('injector', position)).toBeLessThan(0.5 * one('injector', position))
    }
    expect(chances(rows, {})('injector', 2)).toBe(one('injector', 2))
  })

  test('a part that was replaced in an unknown version is a mixture, not the original', () => {
    const first = READINGS.map(([day, km]) => ['V1', 'Plover 2.2', day, km + 60_000, null])
    const rows = [
      ['Vehicle', 'Engine', 'Date', 'Odo', 'Work'],
      ['V1', 'Plover 2.2', '2023-01-10', 70_000, 'repl all injectors'],
      ...first,
    ]
    const unknown = chances(rows, { partVersion: 'unknown' })
    const original = chances(rows, { partVersion: 'original' })
    expect(unknown('injector')).toBeLessThan(0.8 * original('injector'))
    expect(chances(rows, {})('injector')).toBe(unknown('injector'))
  })

  test('a tracker that counts from its installation is no young vehicle', () => {
    const rows = [
      ['Vehicle', 'Engine', 'Installed on', 'Odometer at installation', 'Date', 'Tracker km'],
      ...READINGS.map(([day], i) => ['V1', 'Plover 2.2', '2025-09-30', 118_400, day, i * 4_000]),
    ]
    const added = chances(rows, { odometerFrom: 'installation' })
    const asWritten = chances(rows, { odometerFrom: 'new' })
    expect(asWritten('valve')).toBeLessThan(0.5 * added('valve'))
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { csvLine } from '@/lib/intake/csv-line'
import { readTables } from '@/lib/intake/read-tables'
import type { GivenTable } from '@/lib/intake/table-read'
import { TABLES } from '@/lib/intake/tables'
import { LONGEST_TEXT } from '@/lib/records/text-limits'
import { parseDay } from '@/lib/units/dates'
import { exampleLibrary } from '../records/example-library'
import { runs } from '../runs'

const GROUND = {
  library: exampleLibrary(),
  today: parseDay('2026-06-30')!,
  standing: [{ unit: 'V1', family: 'plover-22' }],
}

const read = (table: GivenTable) => readTables([table], GROUND)[0]!
const objects = (kind: GivenTable['kind'], ...given: unknown[]) =>
  read({ name: 'body', kind, objects: given })
const faults = (kind: GivenTable['kind'], ...given: unknown[]) =>
  objects(kind, ...given).rejected.map(({ line, column, reason }) => [line - 1, column, reason])

const READING = { unit: 'V1', read_on: '2026-06-01', odometer_km: 130_000 }
const CHECK = { unit: 'V1', checked_on: '2026-06-01', kind: 'scan' }

test('a text or a note that is too long is refused with its column and the limit, of objects and of a file', () => {
  const long = 'x'.repeat(LONGEST_TEXT + 1)
  const reason = `has ${LONGEST_TEXT + 1} characters, the most taken is ${LONGEST_TEXT}`
  expect(faults('readings', { ...READING, source: long }, { ...READING, remark: long })).toEqual([
    [0, 'source', reason],
    [1, 'remark', reason],
  ])
  const bytes = Buffer.from(
    `unit,read_on,odometer_km,remark\nV1,2026-06-01,1,${long}\nV1,2026-06-01,2,${long.slice(1)}\n`,
  )
  const file = read({ name: 'readings.csv', kind: 'readings', bytes })
  expect(file.rejected).toMatchObject([{ line: 2, column: 'remark', reason }])
  expect(file.records.readings).toHaveLength(1)
})

describe('an object is read like the row of a file', () => {
  const kinds = ['vehicles', 'readings', 'codes', 'checks', 'repairs', 'changes'] as const
  const words = [
    'V1',
    'plover-22',
    'injector',
    'misfire@3',
    'P0302',
    'yes',
    'all',
    '1 3',
    'renew',
    'scan',
    'x',
  ]
  const cell = fc.oneof(
    fc.constantFrom('', ' ', '2026-06-01', '2031-01-01', '12.5', '-1', ...words),
    fc.string({ maxLength: 8 }).filter((text) => !/[\0\r\n]|\p{Surrogate}/u.test(text)),
  )

  test.each(kinds)('%s', (kind) => {
    const columns = [...Object.keys(TABLES[kind].shape), 'colour']
    const row = fc.tuple(...columns.map((name) => (name === 'unit' ? fc.constantFrom('V1', '') : cell)))
    const taken = (table: GivenTable) => {
      const { records, rejected } = read(table)
      const faults = rejected.map(({ column, reason }) => ({ column, reason }))
      return { faults, rows: records[kind].map((each) => ({ ...each, line: 0 })) }
    }
    fc.assert(
      fc.property(row, (cells) => {
        fc.pre(cells.some((cell) => cell.trim() !== '')) // a blank line of a file is no row
        const bytes = Buffer.from(csvLine(columns) + csvLine(cells))
        const object = Object.fromEntries(columns.map((name, i) => [name, cells[i]]))
        const fromObject = taken({ name: 'body', kind, objects: [object] })
        expect(fromObject).toEqual(taken({ name: 'body', kind, bytes }))
      }),
      { numRuns: runs(200) },
    )
  })
})

test('a blank line of a file is no row, an empty object is told of', () => {
  const bytes = Buffer.from(csvLine(Object.keys(READING)) + csvLine(Object.keys(READING).map(() => ' ')))
  expect(read({ name: 'body', kind: 'readings', bytes }).rejected).toEqual([])
  expect(objects('readings', {}).rejected).toHaveLength(1)
})

describe('a machine may write', () => {
  test('numbers as numbers or as text', () => {
    const { records } = objects('readings', READING, { ...READING, odometer_km: '130001.5', engine_hours: 0 })
    expect(records.readings.map(({ odometerKm }) => odometerKm)).toEqual([130_000, 130_001.5])
  })

  test('a number for a name', () => {
    const { records } = objects('vehicles', { unit: 4711, family: 'plover-22' })
    expect(records.vehicles[0]?.unit).toBe('4711')
  })

  test('true and false, or yes and no', () => {
    const code = { unit: 'V1', seen_on: '2026-06-01', code: 'P0301' }
    const { records } = objects('codes', { ...code, lamp: true }, { ...code, lamp: 'no' })
    expect(records.codes.map(({ lamp }) => lamp)).toEqual([true, false])
  })

  test('signs and positions as a list, as text, or as one number', () => {
    const { records } = objects('checks', {
      ...CHECK,
      seen: ['misfire@3', 'oil-seep'],
      looked_for: 'misfire',
    })
    expect(records.checks[0]).toMatchObject({
      seen: [
        { sign: 'misfire', position: 3 },
        { sign: 'oil-seep', position: null },
      ],
      lookedFor: [{ sign: 'misfire', position: null }],
    })
    const repair = { unit: 'V1', done_on: '2026-06-01', weak_point: 'injector', action: 'renew' }
    const given = [[3, 1], 2, 'all', '1 4'].map((positions) => ({ ...repair, positions }))
    expect(objects('repairs', ...given).records.repairs.map(({ positions }) => positions)).toEqual([
      [1, 3],
      [2],
      [1, 2, 3, 4],
      [1, 4],
    ])
  })

  test('nothing, null or blank for what is not known', () => {
    const { records } = objects(
      'readings',
      { ...READING, source: null },
      { ...READING, source: ' ', ref: '2' },
    )
    expect(records.readings.map(({ source }) => source)).toEqual([null, null])
  })

  test('miles in one object and kilometres in another', () => {
    const { odometer_km: _, ...bare } = READING
    const { records } = objects('readings', { ...bare, odometer_mi: 100 }, READING)
    expect(records.readings.map(({ odometerKm }) => odometerKm)).toEqual([160.9344, 130_000])
  })

  test('members that are no columns: they are kept as notes', () => {
    const { records } = objects('readings', { ...READING, driver: 'J', round: 3, wet: true, none: null })
    expect(records.readings[0]?.notes).toEqual({ driver: 'J', round: '3', wet: 'yes' })
  })
})

describe('an object is rejected with its index, column and reason', () => {
  test.each<[unknown, string, RegExp]>([
    [7, '', /^found a number, expected an object$/],
    [null, '', /^found null, expected an object$/],
    [[READING], '', /^found a list, expected an object$/],
    [{}, '', /^is empty$/],
    [{ ...READING, unit: '' }, 'unit', /^is blank/],
    [{ ...READING, unit: 'V2' }, 'unit', /^"V2" is no vehicle/],
    [{ ...READING, unit: true }, 'unit', /^found true or false, expected text or a number$/],
    [{ ...READING, unit: 'V'.repeat(201) }, 'unit', /^has 201 characters/],
    [{ ...READING, unit: 'V1\0' }, 'unit', /^holds characters that are no text$/],
    [{ ...READING, source: '\ud800' }, 'source', /^holds characters that are no text$/],
    [{ ...READING, read_on: 20_000 }, 'read_on', /^found a number, expected text$/],
    [{ ...READING, read_on: '2026-07-01' }, 'read_on', /^2026-07-01 lies after today/],
    [{ ...READING, odometer_km: [1] }, 'odometer_km', /^found a list, expected a number or text$/],
    [{ ...READING, odometer_km: -1 }, 'odometer_km', /negative/],
    [{ ...READING, odometer_km: 1e21 }, 'odometer_km', /cannot be right/],
    [{ ...READING, odometer_mi: 1 }, '', /distances must be all in km or all in miles/],
    [{ ...READING, Unit: 'V1' }, '', /has the column Unit twice/],
    [{ ...READING, driver: { name: 'J' } }, 'driver', /^found an object, expected text/],
    [{ ...READING, 'a\0': 1 }, '', /has a member whose name holds characters that are no text/],
    [Object.fromEntries(Array.from({ length: 201 }, (_, i) => [i, i])), '', /has 201 members/],
  ])('%j', (object, column, reason) => {
    expect(faults('readings', READING, object)).toEqual([[1, column, expect.stringMatching(reason)]])
  })

  test('a list of nothing where blank means everything', () => {
    expect(faults('checks', { ...CHECK, looked_for: [] }, { ...CHECK, seen: [] })).toEqual([
      [0, 'looked_for', 'is an empty list; leave it out'],
    ])
  })

  test('a second object for the same vehicle names the first', () => {
    const vehicle = { unit: 'N1', family: 'plover-22' }
    expect(faults('vehicles', vehicle, { ...vehicle, site: 'North' })).toEqual([
      [1, 'unit', 'a second row for "N1"; the one at index 0 went in'],
    ])
  })
})

test('objects that repeat another, and those whose ref a later one has, are counted', () => {
  const first = { ...READING, ref: 'a', odometer_km: 1 }
  const { duplicates, replaced, records } = objects('readings', READING, READING, first, {
    ...READING,
    ref: 'a',
  })
  expect([duplicates, replaced, records.readings.length]).toEqual([1, 1, 2])
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { openTables, readTables } from '@/lib/intake/read-tables'
import type { GivenTable, TableOutcome } from '@/lib/intake/table-read'
import { noRecords, type RecordLists } from '@/lib/intake/tables'
import { parseDay } from '@/lib/units/dates'
import { exampleLibrary } from '../records/example-library'

const TODAY = parseDay('2026-06-30')!
const GROUND = {
  library: exampleLibrary(),
  today: TODAY,
  standing: [
    { unit: 'V1', family: 'plover-22' },
    { unit: 'V2', family: 'no-such' },
  ],
}
const unit = fc.constantFrom('V1', 'V2', 'V9', '')
const day = fc.constantFrom('2026-01-01', '2026-02-03', '2027-01-01', 'soon')
const FILES = {
  readings: {
    head: 'unit,read_on,odometer_km,source,colour',
    row: fc.tuple(
      unit,
      day,
      fc.integer({ min: -1, max: 3 }),
      fc.constantFrom('', '"a\nb"', 'ä'),
      fc.constantFrom('', 'red'),
    ),
  },
  codes: {
    head: 'unit,seen_on,code',
    row: fc.tuple(unit, day, fc.constantFrom('P0301', 'P0999', 'nothing', '94:18')),
  },
  checks: {
    head: 'unit,checked_on,kind,seen',
    row: fc.tuple(
      unit,
      day,
      fc.constantFrom('scan', 'visual', 'x'),
      fc.constantFrom('', 'misfire@3', 'none'),
    ),
  },
  repairs: {
    head: 'unit,done_on,weak_point,action',
    row: fc.tuple(
      unit,
      day,
      fc.constantFrom('injector', 'other', 'none'),
      fc.constantFrom('renew', 'inspect'),
    ),
  },
  changes: { head: 'unit,on,kind', row: fc.tuple(unit, day, fc.constantFrom('owner', 'cluster', 'x')) },
} as const

/** Reads a file to its end, so many rows at a time. */
function inParts(
  given: GivenTable,
  rowsAtOnce: number,
): { records: RecordLists; outcome: TableOutcome; shares: number[] } {
  const { tables, large } = openTables([given], GROUND, 0)
  expect(tables).toEqual([])
  const records = noRecords()
  const shares: number[] = []
  const steps = large[0]!.parts(rowsAtOnce)
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return { records, outcome: step.value, shares }
    const part = step.value.records[large[0]!.kind]
    expect(part.length).toBeLessThanOrEqual(rowsAtOnce)
    expect(part.length).toBeGreaterThan(0)
    ;(records[large[0]!.kind] as unknown[]).push(...part)
    shares.push(step.value.share)
  }
}

/** Of equal rows the first. */
function withoutDoubles(rows: readonly object[]): object[] {
  const seen = new Set<string>()
  return rows.filter((row) => {
    const text = JSON.stringify({ ...row, line: 0 })
    return !seen.has(text) && seen.add(text)
  })
}

test('a large file says in parts what it says as a whole, doubles aside', () => {
  for (const [kind, { head, row }] of Object.entries(FILES))
    fc.assert(
      fc.property(
        fc.array(row as fc.Arbitrary<unknown[]>, { maxLength: 12 }),
        fc.integer({ min: 1, max: 5 }),
        (rows, rowsAtOnce) => {
          const text = [head, ...rows.map((cells) => cells.join(','))].join('\n')
          const given = { name: `${kind}.csv`, kind, bytes: Buffer.from(text) } as GivenTable
          const [whole] = readTables([given], GROUND)
          const { records, outcome, shares } = inParts(given, rowsAtOnce)
          const list = records[kind as keyof typeof FILES]
          expect(withoutDoubles(list)).toEqual(whole?.records[kind as keyof typeof FILES])
          expect(outcome.rejected).toEqual(whole?.rejected)
          expect(outcome.heading).toEqual(whole?.heading)
          expect(list.length).toBe(
            (whole?.records[kind as keyof typeof FILES].length ?? 0) + (whole?.duplicates ?? 0),
          )
          expect([...shares].sort((a, b) => a - b)).toEqual(shares)
          if (whole?.duplicates === 0) expect(outcome).toEqual(whole && outcomeOf(whole))
        },
      ),
      { numRuns: process.env.LONG_TESTS ? 2000 : 60 },
    )
})

const outcomeOf = ({
  name: _,
  kind: __,
  records: ___,
  ...outcome
}: TableOutcome & { name: string; kind: string; records: unknown }) => outcome

test('vehicles, rows with a ref and rows that are no file are read together', () => {
  const given: GivenTable[] = [
    { name: 'vehicles.csv', kind: 'vehicles', bytes: Buffer.from('unit,family\nV3,plover-22\n') },
    {
      name: 'readings.csv',
      kind: 'readings',
      bytes: Buffer.from('unit,read_on,odometer_km,ref\nV1,2026-01-01,1,a\n'),
    },
    { name: 'codes', kind: 'codes', objects: [{ unit: 'V1', seen_on: '2026-01-01', code: 'P0301' }] },
  ]
  const { tables, large } = openTables(given, GROUND, 0)
  expect(large).toEqual([])
  expect(tables.map(({ name }) => name)).toEqual(['vehicles.csv', 'readings.csv', 'codes'])
})

test('a file of which nothing can be read says so at its end', () => {
  const { records, outcome } = inParts(
    { name: 'readings.csv', kind: 'readings', bytes: Buffer.from('a,b\n1,2\n') },
    3,
  )
  expect(records.readings).toEqual([])
  expect(outcome).toMatchObject({ heading: null, rejected: [{ line: 1 }] })
})

import { describe, expect, test } from 'vitest'
import { readTables } from '@/lib/intake/read-tables'
import type { GivenTable } from '@/lib/intake/table-read'
import { exampleLibrary } from '../records/example-library'
import { TODAY } from './folder'

const table = (name: string, kind: GivenTable['kind'], text: string): GivenTable => ({
  name,
  kind,
  bytes: Buffer.from(text),
})
const read = (tables: GivenTable[], standing: { unit: string; family: string }[] = []) =>
  readTables(tables, { library: exampleLibrary(), today: TODAY, standing })

describe('files of rows', () => {
  const vehicles = table('north.csv', 'vehicles', 'unit,family\nV1,plover-22\n')
  const more = table('south.csv', 'vehicles', 'unit,family\nV2,plover-22\n')
  const readings = table(
    '2025.csv',
    'readings',
    'unit,read_on,odometer_km\nV1,2025-01-31,1\nV2,2025-01-31,2\n',
  )

  test('several of a kind are read each by itself, vehicles first, in the order given', () => {
    const reads = read([readings, vehicles, more])
    expect(reads.map(({ name, rejected }) => [name, rejected.length])).toEqual([
      ['north.csv', 0],
      ['south.csv', 0],
      ['2025.csv', 0],
    ])
    expect(reads[2]?.records.readings).toHaveLength(2)
    expect(reads[2]?.records.vehicles).toEqual([])
  })

  test('rows may speak of vehicles that stand already, and of no others', () => {
    const [only] = read([readings], [{ unit: 'V2', family: 'plover-22' }])
    expect(only?.records.readings.map(({ unit }) => unit)).toEqual(['V2'])
    expect(only?.rejected.map(({ line, column }) => [line, column])).toEqual([[2, 'unit']])
  })

  test('what names refer to is checked against the family that a vehicle stands with', () => {
    const codes = table('checks.csv', 'checks', 'unit,checked_on,kind,seen\nV1,2025-01-31,scan,no-such\n')
    expect(read([codes], [{ unit: 'V1', family: 'plover-22' }])[0]?.rejected).toHaveLength(1)
    expect(read([codes], [{ unit: 'V1', family: 'nobody-knows' }])[0]?.rejected).toHaveLength(0)
  })

  test('what heads the rows is told with them', () =>
    expect(read([readings])[0]?.heading).toEqual({
      written: ['unit', 'read_on', 'odometer_km'],
      separator: ',',
      line: 1,
    }))
})

import { describe, expect, test } from 'vitest'
import { type FileKind, isWorkbook, kindOfFile } from '@/lib/intake/kind-of-file'
import { asUtf8 } from '@/lib/intake/mend-file'
import { rowsByMonth } from '@/lib/intake/months'
import { KIND_UNKNOWN, readStaged, type StagedFile } from '@/lib/intake/read-staged'
import { readTables } from '@/lib/intake/read-tables'
import { TABLE_KINDS } from '@/lib/intake/tables'
import { columnMeanings, template } from '@/lib/intake/template'
import { EXAMPLE_LIBRARY, exampleLibrary } from '../records/example-library'
import { TODAY } from './folder'

const READINGS = 'unit,read_on,odometer_km\nV1,2026-01-31,84210\n'
const VEHICLES = 'unit,family\nV1,plover-22\n'
const LIBRARY_JSON = JSON.stringify(EXAMPLE_LIBRARY)
const GROUND = { library: null, currency: null, today: TODAY }
const file = (name: string, text: string): StagedFile => {
  const bytes = Buffer.from(text)
  return { name, kind: kindOfFile(name, bytes), bytes }
}

describe('what a file holds', () => {
  test.each<[string, string, FileKind | null]>([
    ['readings.csv', READINGS, 'readings'],
    ['North yard readings (2).CSV', READINGS, 'readings'],
    ['export.csv', READINGS, 'readings'],
    ['export.csv', 'Report of June\n\nUnit;Read on;Odometer km\n', 'readings'],
    ['codes.csv', READINGS, 'readings'],
    ['codes.csv', 'nothing,that,we,know\n', 'codes'],
    ['export.csv', 'nothing,that,we,know\n', null],
    ['engines.json', '{ "format": "gudgeon-library/1" }', 'library'],
    ['settings.json', '{}', 'settings'],
    ['other.json', '{}', null],
    ['book.xlsx', 'PK\u0003\u0004', null],
    ['empty.csv', '', null],
  ])('%s', (name, text, kind) => expect(kindOfFile(name, Buffer.from(text))).toBe(kind))
})

test('a workbook is known by what it is, and where it is none by its name', () => {
  const old = Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 0])
  expect(isWorkbook('vehicles.csv', Buffer.from('PK\u0003\u0004\u0000'))).toBe(true)
  expect(isWorkbook('export', old)).toBe(true)
  expect(isWorkbook('prices.XLSX', Buffer.from('%PDF'))).toBe(true)
  expect(isWorkbook('vehicles.csv', Buffer.from(VEHICLES))).toBe(false)
})

describe('files that are brought in together', () => {
  test('rows are read against the library among them', () => {
    const library = file('library.json', LIBRARY_JSON)
    const checks = file('checks.csv', 'unit,checked_on,kind,seen\nV1,2026-01-01,scan,no-such\n')
    const read = (files: StagedFile[]) =>
      readStaged(files, GROUND).tables.map(({ rejected }) => rejected.length)
    expect(read([checks, file('vehicles.csv', VEHICLES)])).toEqual([0, 0])
    expect(read([checks, file('vehicles.csv', VEHICLES), library])).toEqual([0, 1])
  })
  test('without any vehicle the others are refused whole, not row by row', () => {
    const { tables, refused } = readStaged([file('readings.csv', READINGS)], GROUND)
    expect(tables).toEqual([])
    expect(refused).toEqual([
      { name: 'readings.csv', reason: expect.stringContaining('bring in vehicles.csv') },
    ])
  })
  test('a library that is not valid, or in another currency, is refused with its place', () => {
    const refusal = (text: string, currency: string | null = null) =>
      readStaged([file('library.json', text)], { ...GROUND, currency }).refused[0]?.reason
    expect(refusal('{ "format": "gudgeon-library/1", "families": 3 }')).toMatch(/families: found 3/)
    const priced = JSON.stringify({ ...JSON.parse(LIBRARY_JSON), currency: 'GBP' })
    expect(refusal(priced, 'EUR')).toMatch(/in GBP and the organisation's in EUR/)
    expect(refusal(priced, 'GBP')).toBeUndefined()
  })
  test('settings are left alone, and what nobody knows is asked about', () => {
    const { refused } = readStaged([file('settings.json', '{}'), file('x.csv', 'a,b\n')], GROUND)
    expect(refused.map(({ name }) => name)).toEqual(['settings.json', 'x.csv'])
    expect(refused[1]?.reason).toBe(KIND_UNKNOWN)
  })
  test('what cannot be read says so: empty, a spreadsheet, a picture', () => {
    const reasonOf = (text: string) => readStaged([file('x', text)], GROUND).refused[0]?.reason
    expect(reasonOf('')).toBe('it is empty')
    expect(reasonOf('PK\u0003\u0004\u0000')).toMatch(/it is a spreadsheet: bring it in on the page/)
    expect(reasonOf('GIF\u0000')).toMatch(/is not a text file/)
    const western: StagedFile = {
      name: 'x',
      kind: null,
      bytes: Buffer.from('Pr\u00fcfdatum;Stand\n', 'latin1'),
    }
    expect(readStaged([western], GROUND).refused[0]?.reason).toBe(KIND_UNKNOWN)
  })
})

test('a file from an old spreadsheet is read once it is UTF-8', () => {
  const western = Buffer.from('unit,family,site\nV1,plover-22,M\xfchlhof\n', 'latin1')
  const read = (bytes: Uint8Array) =>
    readTables([{ name: 'v', kind: 'vehicles', bytes }], { library: exampleLibrary(), today: TODAY })[0]!
  expect(read(western).rejected).toHaveLength(1)
  expect(read(asUtf8(western, 'windows-1252')).records.vehicles[0]?.site).toBe('Mühlhof')
})

test('rows are counted by their month', () => {
  const rows = 'V1,2026-02-01,1\nV1,2025-12-31,2\nV1,2026-02-28,3\n'
  const [read] = readTables(
    [{ name: 'r', kind: 'readings', bytes: Buffer.from(`unit,read_on,odometer_km\n${rows}`) }],
    {
      library: exampleLibrary(),
      today: TODAY,
      standing: [{ unit: 'V1', family: 'plover-22' }],
    },
  )
  expect(rowsByMonth(read!.records)).toEqual([
    ['2025-12', 1],
    ['2026-02', 2],
  ])
})

describe.each(TABLE_KINDS)('the template of %s', (kind) => {
  test('has every column, and two rows that go in', () => {
    const vehicles = { name: 'v', kind: 'vehicles' as const, bytes: Buffer.from(template('vehicles')) }
    const own = { name: 'x', kind, bytes: Buffer.from(template(kind)) }
    const reads = readTables(kind === 'vehicles' ? [own] : [vehicles, own], {
      library: exampleLibrary(),
      today: TODAY,
    })
    expect(reads.flatMap(({ rejected }) => rejected)).toEqual([])
    expect(reads.at(-1)?.records[kind]).toHaveLength(2)
    expect(template(kind).split('\r\n')[0]?.split(',')).toEqual(columnMeanings(kind).map(({ name }) => name))
  })
})

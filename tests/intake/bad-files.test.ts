import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { IntakeRefusal } from '@/lib/intake/findings'
import { DATA_FILES } from '@/lib/intake/read-files'
import { exampleLibrary } from '../records/example-library'
import { reasons, takeIn, VEHICLES } from './folder'

const READINGS = 'unit,read_on,odometer_km\nV1,2026-01-31,84210\n'

describe('a file that cannot be read is one clear line, and the others go in', () => {
  const png = Buffer.from([
    0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52,
  ])
  const zip = Buffer.from([0x50, 0x4b, 0x03, 0x04, 0x14, 0, 0x06, 0, 0x08, 0, 0, 0])
  const utf16 = Buffer.from(`\uFEFF${READINGS}`, 'utf16le')
  const nothing = 'nothing of it was taken in'
  test.each<[string, string | Uint8Array, string]>([
    ['a byte order mark alone', '\uFEFF', `the file needs a first line with its columns; ${nothing}`],
    [
      'a picture',
      png,
      `the file is not a text file: its first line holds bytes that are not UTF-8; ${nothing}`,
    ],
    [
      'a spreadsheet',
      zip,
      `the file is not a text file: its first line holds a NUL byte (it is a spreadsheet: bring it in on the page, which reads it as it is, or save it as "CSV UTF-8"); ${nothing}`,
    ],
    ['UTF-16', utf16, `the file is UTF-16; save it again as "CSV UTF-8"; ${nothing}`],
    [
      'UTF-16 without a mark',
      utf16.subarray(2),
      `the file is not a text file: its first line holds a NUL byte; ${nothing}`,
    ],
    [
      'a missing column',
      'unit,date,odometer_km\n',
      `the file has no column read_on; its first line holds "unit", "date", "odometer_km"; ${nothing}`,
    ],
    [
      'rows without a header',
      'V1,2026-01-31,84210\n',
      `the file has no column unit, read_on, odometer_km; its first line holds "V1", "2026-01-31", "84210"; ${nothing}`,
    ],
    [
      'km and miles at once',
      'unit,read_on,odometer_km,odometer_mi\n',
      `the file has odometer_km and odometer_mi: distances must be all in km or all in miles; ${nothing}`,
    ],
    ['a column twice', 'unit,read_on,odometer_km,unit\n', `the file has the column unit twice; ${nothing}`],
    [
      'a broken quote in the header',
      '"unit,read_on,odometer_km\n',
      `the file has a broken quote in its first line; ${nothing}`,
    ],
  ])('%s', (_, content, said) => {
    const intake = takeIn({
      'readings.csv': content,
      'codes.csv': 'unit,seen_on,code\nV1,2026-01-31,P0301\n',
    })
    expect(reasons(intake)).toEqual([`readings.csv:1 : ${said}`])
    expect(intake.records.codes).toHaveLength(1)
  })
})

test('a letter of another encoding among the names of columns refuses the rows that have one, and no other', () => {
  const text = 'unit,read_on,odometer_km,Pr\u00fcfer\nV1,2026-01-31,84210,Ada\nV2,2026-01-31,1200,J\u00fcrg\n'
  const intake = takeIn({ 'readings.csv': Buffer.from(text, 'latin1') })
  expect(reasons(intake)).toEqual(['readings.csv:3 : the row holds bytes that are not UTF-8'])
  expect(intake.records.readings.map(({ unit, notes }) => [unit, notes])).toEqual([
    ['V1', { 'Pr\uFFFDfer': 'Ada' }],
  ])
})

describe('nothing is taken in, with one clear line,', () => {
  const refusal = (files: Record<string, string>, library = exampleLibrary()) => {
    try {
      takeIn(files, library)
      return 'taken in'
    } catch (error) {
      return error instanceof IntakeRefusal ? error.message : `crash: ${error}`
    }
  }
  test('when the settings are in another currency than the library', () =>
    expect(refusal({ 'settings.json': '{"currency":"EUR"}' }, { ...exampleLibrary(), currency: 'GBP' })).toBe(
      "settings.json: the currency is EUR, but the library's prices are in GBP; prices are not converted",
    ))
  test('when vehicles.csv cannot be read', () =>
    expect(refusal({ 'vehicles.csv': 'number,engine\n1,plover-22\n' })).toBe(
      'vehicles.csv: the file has no column unit, family; its first line holds "number", "engine"; nothing of it was taken in',
    ))
  test('when the settings are no JSON', () =>
    expect(refusal({ 'settings.json': '{currency: EUR}' })).toMatch(
      /^settings\.json: the file: found no JSON/,
    ))
  test('when a setting is wrong', () => {
    expect(refusal({ 'settings.json': '{"timeZone":"Middle/Earth"}' })).toBe(
      'settings.json: timeZone: found "Middle/Earth", expected an IANA zone like Europe/Berlin',
    )
    expect(refusal({ 'settings.json': '{"stopLimit":-1}' })).toBe(
      'settings.json: stopLimit: found -1, expected at least 0',
    )
    expect(refusal({ 'settings.json': '[]' })).toBe('settings.json: the file: found [], expected an object')
  })
  test('but a setting that we do not know is only told', () =>
    expect(takeIn({ 'settings.json': '{"stoplimit":0.2}' }).warnings).toEqual([
      {
        file: 'settings.json',
        line: null,
        message: 'the key "stoplimit" is not known and has no effect; did you mean "stopLimit"?',
      },
    ]))
})

describe('whatever bytes stand in a file, its rows go in or are rejected with a reason', () => {
  const csvFiles = DATA_FILES.filter((name) => name.endsWith('.csv') && name !== 'vehicles.csv')
  const file = fc.constantFrom(...csvFiles)
  const headers: Record<string, string> = {
    'readings.csv': 'unit,read_on,odometer_km\n',
    'codes.csv': 'unit,seen_on,code\n',
    'checks.csv': 'unit,checked_on,kind,seen,looked_for\n',
    'repairs.csv': 'unit,done_on,weak_point,positions,action,revision\n',
    'changes.csv': 'unit,on,kind\n',
  }
  const explained = (intake: ReturnType<typeof takeIn>) =>
    intake.rejected.every(
      ({ line, reason }) => line >= 1 && reason !== '' && !/undefined|\[object/.test(reason),
    )

  test('with no header of ours', () =>
    fc.assert(
      fc.property(file, fc.uint8Array({ minLength: 1, maxLength: 200 }), (name, bytes) => {
        const intake = takeIn({ [name]: bytes })
        expect(intake.rejected).toHaveLength(1)
        expect(explained(intake)).toBe(true)
      }),
    ))

  test('under our header', () =>
    fc.assert(
      fc.property(file, fc.uint8Array({ maxLength: 200 }), (name, bytes) => {
        const intake = takeIn({ [name]: Buffer.concat([Buffer.from(headers[name] ?? ''), bytes]) })
        expect(explained(intake)).toBe(true)
      }),
    ))

  const piece = fc.constantFrom(
    'V1',
    'V2',
    '2026-01-31',
    '84210',
    'P0301',
    'scan',
    'injector',
    'renew',
    'misfire@2',
    '1 2',
    ',',
    ',',
    ',',
    '\n',
    '"',
    '-',
    '\u0000',
    'ü',
  )
  test('made of pieces of good rows: what goes in can be counted against what does not', () =>
    fc.assert(
      fc.property(file, fc.array(piece, { maxLength: 60 }), (name, pieces) => {
        const intake = takeIn({ [name]: (headers[name] ?? '') + pieces.join('') })
        const { readings, codes, checks, repairs, changes } = intake.records
        const went = readings.length + codes.length + checks.length + repairs.length + changes.length
        const lines = pieces.join('').split('\n').length
        expect(explained(intake)).toBe(true)
        expect(went + intake.rejected.length).toBeLessThanOrEqual(lines)
        expect(new Set(intake.rejected.map(({ line }) => line)).size).toBe(intake.rejected.length)
      }),
    ))
})

test('a file of vehicles alone is a whole folder', () => {
  const { records, rejected } = takeIn({ 'vehicles.csv': VEHICLES })
  expect([records.vehicles.length, records.readings.length, rejected.length]).toEqual([2, 0, 0])
})

test('a line of a million cells is one rejected row', () => {
  const intake = takeIn({ 'readings.csv': `${READINGS}${','.repeat(1_000_000)}x\nV1,2026-02-01,84310\n` })
  expect(reasons(intake)).toEqual([
    'readings.csv:3 : the row has 1000001 cells, the first line of the file 3',
  ])
  expect(intake.records.readings).toHaveLength(2)
  expect(intake.rejected[0]?.row.length).toBe(100_000)
})

test('a file without a byte is a file without rows, and told', () => {
  const { rejected, warnings } = takeIn({ 'changes.csv': '' })
  expect(rejected).toEqual([])
  expect(warnings).toEqual([{ file: 'changes.csv', line: null, message: 'is empty' }])
})

describe('what people and their programs put around a table', () => {
  const readings = (text: string) => takeIn({ 'readings.csv': text })
  test('titles and blank lines above the columns are left out, and told; lines stay physical', () => {
    const intake = readings(
      'Fleet report;;\n\n"June\n2026"\nunit;read_on;odometer_km\nV1;2026-01-31;84210\nV1;x;1\n',
    )
    expect(intake.records.readings.map(({ line }) => line)).toEqual([6])
    expect(intake.rejected.map(({ line }) => line)).toEqual([7])
    expect(intake.warnings).toEqual([
      { file: 'readings.csv', line: 5, message: 'what stands above the columns was left out: 4 lines' },
    ])
  })
  test('columns written with spaces, hyphens and capitals are ours', () =>
    expect(readings(' Unit ,Read on,Odometer-KM\nV1,2026-01-31,84210\n').records.readings).toHaveLength(1))
  test('columns twenty-one lines below the top are not looked for', () =>
    expect(readings(`${'title\n'.repeat(21)}${READINGS}`).records.readings).toEqual([]))
})

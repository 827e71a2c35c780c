import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { csvLine } from '@/lib/intake/csv-line'
import { formatDay, parseDay } from '@/lib/units/dates'
import { kmFromMiles } from '@/lib/units/distances'
import { reasons, TODAY, takeIn } from './folder'

const READINGS = 'unit,read_on,odometer_km\nV1,2026-01-31,84210.5\nV2,2026-02-28,1200\n'
const readingsOf = (text: string | Uint8Array) => takeIn({ 'readings.csv': text }).records.readings

describe('a folder of records', () => {
  test('is read whole', () => {
    const { records, rejected } = takeIn({
      'readings.csv': READINGS,
      'codes.csv':
        'unit,seen_on,odometer_km,code,state,lamp\nV1,2026-01-31,84000,p0302,,yes\nV1,2026-01-31,,094:18,pending,\n',
      'checks.csv':
        'unit,checked_on,kind,seen,looked_for,km_since_cleared\nV1,2026-01-31,scan,misfire@2 lamp-on,,30\nV1,2026-01-31,report,,,\n',
      'repairs.csv':
        'unit,done_on,weak_point,positions,action,revision,found\nV1,2026-02-01,injector,all,renew,mk2,failed\nV1,2026-02-01,cover-seep,,inspect,?,sound\nV2,2026-02-01,other,,renew,,\n',
      'changes.csv': 'unit,on,kind,engine_km\nV1,2026-03-01,engine-used,90000\n',
      'settings.json': '{"currency": "EUR", "timeZone": "Europe/Berlin", "visit": 45}',
    })
    expect(rejected).toEqual([])
    expect(
      records.vehicles.map(({ unit, variant, history, line }) => [unit, variant, history, line]),
    ).toEqual([
      ['V1', 'early', 'full', 2],
      ['V2', null, 'full', 3],
    ])
    expect(records.readings[0]).toEqual({
      unit: 'V1',
      readOn: parseDay('2026-01-31'),
      odometerKm: 84210.5,
      engineHours: null,
      source: null,
      ref: null,
      enteredOn: null,
      notes: {},
      line: 2,
    })
    expect(records.codes.map(({ code, state, lamp }) => [code, state, lamp])).toEqual([
      ['P0302', 'stored', true],
      ['94:18', 'pending', null],
    ])
    expect(records.checks.map(({ seen, lookedFor }) => [seen, lookedFor])).toEqual([
      [
        [
          { sign: 'misfire', position: 2 },
          { sign: 'lamp-on', position: null },
        ],
        null,
      ],
      [[], null],
    ])
    expect(records.repairs.map(({ positions, revision }) => [positions, revision])).toEqual([
      [[1, 2, 3, 4], 'mk2'],
      [[1], '?'],
      [[], null],
    ])
    expect(records.changes[0]).toMatchObject({ kind: 'engine-used', engineKm: 90000 })
    expect(records.settings).toMatchObject({
      currency: 'EUR',
      visit: 45,
      labourRate: null,
      stopLimit: 0.1,
      watchLimit: 0.05,
      adviceHorizonDays: 90,
    })
  })

  test('a vehicle watched from some odometer on has no history unless the file says so', () => {
    const { records } = takeIn({
      'vehicles.csv': 'unit,family,watched_from_km,history\nA,plover-22,90000,\nB,plover-22,90000,full\n',
    })
    expect(records.vehicles.map(({ history }) => history)).toEqual(['none', 'full'])
  })

  test('columns may come in any order, in miles, and with others that are kept as notes', () => {
    const [row] = readingsOf('Driver,odometer_mi,read_on,unit\nMs Teal,100,2026-01-31,V1\n')
    expect(row).toMatchObject({ odometerKm: kmFromMiles(100), notes: { Driver: 'Ms Teal' } })
  })

  test('the same records come out of every separator, line end and byte order mark', () => {
    const plain = readingsOf(READINGS)
    const variants = [
      READINGS.replaceAll(',', ';'),
      READINGS.replaceAll(',', '\t'),
      READINGS.replaceAll('\n', '\r\n'),
      READINGS.replaceAll('\n', '\r'),
      `\uFEFF${READINGS}`,
      READINGS.trimEnd(),
      READINGS.replace(/[^,\n]+/g, '"$&"'),
      READINGS.replaceAll(',', ' , '),
    ]
    expect(plain).toHaveLength(2)
    for (const variant of variants) expect(readingsOf(variant)).toEqual(plain)
  })

  test('any readings come back as they were written', () => {
    const day = fc.integer({ min: parseDay('1990-01-01') ?? 0, max: TODAY })
    const reading = fc.record({
      unit: fc.constantFrom('V1', 'V2'),
      day,
      km: fc.double({ min: 0, max: 1e7, noNaN: true }),
      source: fc.string().map((text) => text.replaceAll('\0', '').trim()),
    })
    fc.assert(
      fc.property(fc.uniqueArray(reading, { selector: ({ km }) => km }), (rows) => {
        const text =
          csvLine(['unit', 'read_on', 'odometer_km', 'source']) +
          rows.map(({ unit, day, km, source }) => csvLine([unit, formatDay(day), km, source])).join('')
        const read = readingsOf(text).map(({ unit, readOn, odometerKm, source }) => ({
          unit,
          day: readOn,
          km: odometerKm,
          source: source ?? '',
        }))
        expect(read).toEqual(rows.map((row) => ({ ...row, km: row.km + 0 })))
      }),
    )
  })

  test('lines are physical lines, quoted line breaks counted', () => {
    const intake = takeIn({
      'readings.csv':
        'unit,read_on,odometer_km,source\nV1,2026-01-31,1,"two\r\nlines"\nV9,2026-01-31,2,\n\nV1,2026-01-32,3,\n',
    })
    expect(intake.records.readings[0]?.line).toBe(2)
    expect(intake.rejected.map(({ line, column, row }) => [line, column, row])).toEqual([
      [4, 'unit', 'V9,2026-01-31,2,'],
      [6, 'read_on', 'V1,2026-01-32,3,'],
    ])
  })
})

describe('rows that stand twice', () => {
  const lines = (text: string) => readingsOf(`unit,read_on,odometer_km,ref\n${text}`).map(({ line }) => line)

  test('exact duplicates count once, however their numbers are written, and are told', () => {
    const intake = takeIn({
      'readings.csv':
        'unit,read_on,odometer_km\nV1,2026-01-31,84210\nV1,2026-01-31,84210.0\nV1,2026-01-31,84211\n',
    })
    expect(intake.records.readings.map(({ line }) => line)).toEqual([2, 4])
    expect(intake.warnings).toEqual([
      { file: 'readings.csv', line: null, message: 'exact duplicates, counted once: 1' },
    ])
  })
  test('of rows with the same ref the last counts', () =>
    expect(lines('V1,2026-01-31,84210,a\nV1,2026-01-31,5,b\nV2,2026-02-01,84310,a\n')).toEqual([3, 4]))
  test('a correction may be taken back', () =>
    expect(lines('V1,2026-01-31,84210,a\nV1,2026-01-31,84310,a\nV1,2026-01-31,84210,a\n')).toEqual([4]))
  test('a second row for a unit is rejected, the first goes in', () => {
    const intake = takeIn({
      'vehicles.csv': 'unit,family,site\nV1,plover-22,north\nV1,plover-22,south\nV1,plover-22,north\n',
    })
    expect(intake.records.vehicles.map(({ site }) => site)).toEqual(['north'])
    expect(reasons(intake)).toEqual(['vehicles.csv:3 unit: a second row for "V1"; the one on line 2 went in'])
  })
})

describe('a row is rejected, with its line, column and reason, for', () => {
  test.each<[string, string, string, string]>([
    [
      'an unknown unit',
      'readings.csv',
      'unit,read_on,odometer_km\nV11,2026-01-31,5',
      'unit: "V11" is no vehicle that was taken in from vehicles.csv; did you mean "V1"?',
    ],
    [
      'an unknown variant',
      'vehicles.csv',
      'unit,family,variant\nV1,plover-22,erly',
      'variant: "erly" is not one of: early; did you mean "early"?',
    ],
    [
      'an unknown weak point',
      'repairs.csv',
      'unit,done_on,weak_point,action\nV1,2026-01-31,injectr,renew',
      'weak_point: "injectr" is not one of: injector, cover-seep, pump-gasket, other; did you mean "injector"?',
    ],
    [
      'an unknown revision',
      'repairs.csv',
      'unit,done_on,weak_point,action,revision\nV1,2026-01-31,injector,renew,mk3',
      'revision: "mk3" is not one of: mk2, clamp, ?; did you mean "mk2"?',
    ],
    [
      'an unknown sign',
      'checks.csv',
      'unit,checked_on,kind,seen\nV1,2026-01-31,scan,misfires@1',
      'seen: "misfires" is not one of: misfire, oil-seep, lamp-on; did you mean "misfire"?',
    ],
    [
      'an unknown sign looked for',
      'checks.csv',
      'unit,checked_on,kind,looked_for\nV1,2026-01-31,visual,oil-sep',
      'looked_for: "oil-sep" is not one of: misfire, oil-seep, lamp-on; did you mean "oil-seep"?',
    ],
    [
      'a position that a sign does not have',
      'checks.csv',
      'unit,checked_on,kind,seen\nV1,2026-01-31,scan,misfire@5',
      'seen: misfire@5: the sign misfire has positions 1 to 4',
    ],
    [
      'a position of a sign without positions',
      'checks.csv',
      'unit,checked_on,kind,seen\nV1,2026-01-31,scan,oil-seep@1',
      'seen: oil-seep@1: the sign oil-seep has no positions',
    ],
    [
      'a position that a weak point does not have',
      'repairs.csv',
      'unit,done_on,weak_point,positions,action\nV1,2026-01-31,injector,3 5,renew',
      'positions: 5: injector has positions 1 to 4',
    ],
    [
      'a code of no known form',
      'codes.csv',
      'unit,seen_on,code\nV1,2026-01-31,P03G1',
      'code: "P03G1" is no trouble code: write five characters like P0302, or SPN:FMI like 94:18',
    ],
    [
      'a date that is not ISO 8601',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,31.1.2026,5',
      'read_on: "31.1.2026" is not a date that exists, written like 2026-06-30',
    ],
    [
      'a date that does not exist',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-02-29,5',
      'read_on: "2026-02-29" is not a date that exists, written like 2026-06-30',
    ],
    [
      'a date after today',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-07-01,5',
      'read_on: 2026-07-01 lies after today, 2026-06-30',
    ],
    [
      'a date after today in any column',
      'codes.csv',
      'unit,seen_on,code,cleared_on\nV1,2026-06-30,P0301,2026-07-01',
      'cleared_on: 2026-07-01 lies after today, 2026-06-30',
    ],
    [
      'a number that is none',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-01-31,many',
      'odometer_km: "many" is not a number written like 84210.5',
    ],
    [
      'a negative number',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-01-31,-5',
      'odometer_km: -5 is negative',
    ],
    [
      'a negative number in miles, under the name in the file',
      'readings.csv',
      'unit,read_on,odometer_mi\nV1,2026-01-31,-5',
      'odometer_mi: -5 is negative',
    ],
    [
      'an absurd number',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-01-31,10000001',
      'odometer_km: 10000001 cannot be right: the most taken is 10,000,000 km',
    ],
    [
      'an unknown word',
      'checks.csv',
      'unit,checked_on,kind\nV1,2026-01-31,scann',
      'kind: "scann" is not one of: scan, visual, road, measure, lamp, report; did you mean "scan"?',
    ],
    [
      'a blank that must not be',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,,',
      'read_on: is blank, and must not be; odometer_km: is blank, and must not be',
    ],
    [
      'more cells than columns',
      'readings.csv',
      'unit,read_on,odometer_km\nV1,2026-01-31,84,5',
      ': the row has 4 cells, the first line of the file 3',
    ],
    [
      'a broken quote',
      'readings.csv',
      'unit,read_on,odometer_km\n"V1,2026-01-31,84',
      ': a quote is not closed, or text follows it in its cell',
    ],
    [
      'a NUL byte',
      'readings.csv',
      'unit,read_on,odometer_km\nV1\0,2026-01-31,84',
      ': the row holds a NUL byte',
    ],
  ])('%s', (_, file, text, said) => {
    const intake = takeIn({ [file]: text })
    expect(reasons(intake)).toEqual([`${file}:2 ${said}`])
    expect(intake.rejected[0]?.row).toBe(text.split('\n')[1])
  })

  test('bytes that are not UTF-8, on their own line alone', () => {
    const latin1 = Buffer.from(
      'unit,read_on,odometer_km,source\nV1,2026-01-30,1,Ma\u00fc\nV1,2026-01-31,2,ok\n',
      'latin1',
    )
    const intake = takeIn({ 'readings.csv': latin1 })
    expect(reasons(intake)).toEqual(['readings.csv:2 : the row holds bytes that are not UTF-8'])
    expect(intake.records.readings.map(({ source }) => source)).toEqual(['ok'])
  })

  test('and the rest of its file goes in', () => {
    const intake = takeIn({
      'readings.csv': 'unit,read_on,odometer_km\nV1,2026-01-30,1\nV9,2026-01-31,2\nV1,2026-02-01,3\n',
    })
    expect(intake.records.readings.map(({ odometerKm }) => odometerKm)).toEqual([1, 3])
  })
})

describe('taken in, with a word', () => {
  test('a vehicle of a family that the library does not have, and all its records', () => {
    const intake = takeIn({
      'vehicles.csv': 'unit,family,variant\nV1,plover-20,late\n',
      'repairs.csv': 'unit,done_on,weak_point,positions,action\nV1,2026-01-31,chain,2,renew\n',
      'checks.csv': 'unit,checked_on,kind,seen\nV1,2026-01-31,road,rattle\n',
    })
    expect(intake.rejected).toEqual([])
    expect(intake.records.repairs[0]?.positions).toEqual([2])
    expect(intake.warnings).toEqual([
      {
        file: 'vehicles.csv',
        line: 2,
        message:
          'family: "plover-20" is not one of: plover-22; did you mean "plover-22"?; the vehicle is kept and not assessed',
      },
    ])
  })
  test('a VIN whose check digit differs, or of another form; none for a maker that uses no check digit', () => {
    const intake = takeIn({
      'vehicles.csv':
        'unit,family,vin\nA,plover-22,1M8GDM9AXKP042788\nB,plover-22,1M8GDM9A1KP042788\nC,plover-22,XK0ZZZ99ZTS392124\nD,plover-22,123\n',
    })
    expect(intake.records.vehicles).toHaveLength(4)
    expect(intake.warnings.map(({ line, message }) => [line, message])).toEqual([
      [3, 'vin: the check digit of 1M8GDM9A1KP042788 should be X: a slip, or a maker that uses none'],
      [5, 'vin: "123" has 3 characters, a VIN has 17'],
    ])
  })
  test('a code that the library does not know', () => {
    const intake = takeIn({
      'codes.csv': 'unit,seen_on,code\nV1,2026-01-31,P0420\nV2,2026-01-31,P0420\nV2,2026-01-31,P0301\n',
    })
    expect(intake.records.codes).toHaveLength(3)
    expect(intake.warnings).toEqual([
      {
        file: 'codes.csv',
        line: null,
        message: 'kept without effect, because the library does not know them: P0420 (2)',
      },
    ])
  })
  test('a column that looks like one of ours', () => {
    const { warnings } = takeIn({ 'readings.csv': 'unit,read_on,odometer_km,engine_hous\n' })
    expect(warnings).toEqual([
      {
        file: 'readings.csv',
        line: 1,
        message: 'the column engine_hous is kept as a note; did you mean engine_hours?',
      },
    ])
  })
  test('a cover that ends after today', () =>
    expect(
      takeIn({ 'vehicles.csv': 'unit,family,cover_until_on\nV1,plover-22,2027-01-31\n' }).rejected,
    ).toEqual([]))
})

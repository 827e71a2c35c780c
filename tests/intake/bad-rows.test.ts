/**
 * A folder in which every way to be refused stands beside rows that go in: each of its files has every column, and for
 * each column every fault that its kind of cell can have.
 */
import { describe, expect, test } from 'vitest'
import { csvLine } from '@/lib/intake/csv-line'
import { TABLE_KINDS, TABLES, type TableKind } from '@/lib/intake/tables'
import { takeIn } from './folder'

type Row = Record<string, string>

/** A row of each kind, every cell of it filled. */
const FULL: Record<TableKind, Row> = {
  vehicles: {
    ...{ unit: 'N1', vin: '1M8GDM9AXKP042788', plate: 'AB 1234', site: 'north', status: 'stock' },
    ...{ left_on: '2026-03-01', family: 'plover-22', variant: 'early', built_on: '2019-05-13' },
    ...{ in_service_on: '2019-06-17', watched_from_on: '2022-08-15', watched_from_km: '61000' },
    ...{ history: 'none', duty: 'short', value: '9500', customer: 'A. Customer', contact: 'a@example.org' },
    ...{ acquired_on: '2026-01-01', acquired_from: 'auction', purchase_price: '6200', prep_cost: '300' },
    ...{ asking_price: '8495', sold_on: '2026-06-30', cover_until_on: '2027-06-30' },
    ...{ cover_until_km: '120000', ref: 'v-1', entered_on: '2026-06-30' },
  },
  readings: {
    ...{ unit: 'V1', read_on: '2026-01-31', odometer_km: '84210.5', engine_hours: '2100', source: 'tracker' },
    ...{ ref: 'r-1', entered_on: '2026-02-01' },
  },
  codes: {
    ...{ unit: 'V1', seen_on: '2026-01-31', odometer_km: '84210', code: 'P0302', state: 'pending' },
    ...{ lamp: 'yes', cleared_on: '2026-02-01', ref: 'c-1', entered_on: '2026-02-01' },
  },
  checks: {
    ...{
      unit: 'V1',
      checked_on: '2026-01-31',
      odometer_km: '84210',
      kind: 'scan',
      seen: 'misfire@3 lamp-on',
    },
    ...{ looked_for: 'misfire oil-seep', km_since_cleared: '30', ref: 'l-1', entered_on: '2026-02-01' },
  },
  repairs: {
    ...{ unit: 'V1', done_on: '2026-01-31', odometer_km: '84210', weak_point: 'injector', positions: '1 3' },
    ...{ action: 'partial', revision: 'mk2', found: 'failed', because: 'sign', restored: '0.5' },
    ...{ parts_cost: '180', labour_hours: '1.5', paid_by: 'own', supplier: 'a supplier', batch: 'B7' },
    ...{ note: 'a word', ref: 'w-1', entered_on: '2026-02-01' },
  },
  changes: {
    ...{ unit: 'V1', on: '2026-01-31', odometer_km: '84210', kind: 'engine-used', engine_km: '60000' },
    ...{ offset_km: '112050', ref: 'x-1', entered_on: '2026-02-01' },
  },
}

/** What kind of cell each column has. What stands in none of these lists is text, which nothing refuses. */
const DATES: Record<TableKind, string[]> = {
  vehicles: [
    ...['left_on', 'built_on', 'in_service_on', 'watched_from_on', 'acquired_on', 'sold_on'],
    ...['cover_until_on', 'entered_on'],
  ],
  readings: ['read_on', 'entered_on'],
  codes: ['seen_on', 'cleared_on', 'entered_on'],
  checks: ['checked_on', 'entered_on'],
  repairs: ['done_on', 'entered_on'],
  changes: ['on', 'entered_on'],
}
const NUMBERS: Record<TableKind, string[]> = {
  vehicles: [
    ...['watched_from_km', 'value', 'purchase_price', 'prep_cost', 'asking_price', 'cover_until_km'],
  ],
  readings: ['odometer_km', 'engine_hours'],
  codes: ['odometer_km'],
  checks: ['odometer_km', 'km_since_cleared'],
  repairs: ['odometer_km', 'restored', 'parts_cost', 'labour_hours'],
  changes: ['odometer_km', 'engine_km', 'offset_km'],
}
const LISTS: Record<TableKind, string[]> = {
  vehicles: ['status', 'history', 'duty'],
  readings: [],
  codes: ['state', 'lamp'],
  checks: ['kind'],
  repairs: ['action', 'found', 'because', 'paid_by'],
  changes: ['kind'],
}
const TEXTS: Record<TableKind, string[]> = {
  vehicles: ['vin', 'plate', 'site', 'family', 'customer', 'contact', 'acquired_from', 'ref'],
  readings: ['source', 'ref'],
  codes: ['ref'],
  checks: ['ref'],
  repairs: ['supplier', 'batch', 'note', 'ref'],
  changes: ['ref'],
}
/** What refers to something that must be there. */
const NAMES: Record<TableKind, string[]> = {
  vehicles: ['unit', 'variant'],
  readings: ['unit'],
  codes: ['unit', 'code'],
  checks: ['unit', 'seen', 'looked_for'],
  repairs: ['unit', 'weak_point', 'positions', 'revision'],
  changes: ['unit'],
}

/** A cell that is refused, and what is said of it. */
type Bad = [column: string, written: string, reason: RegExp]

const NO_DATE = /is not a date that exists, written like 2026-06-30/
const dateFaults = (column: string): Bad[] => [
  ...['31.01.2026', '01/31/2026', '2026-1-31', '2026-01', '20260131', '46053', 'yesterday'].map(
    (written): Bad => [column, written, NO_DATE],
  ),
  ...['2026-02-29', '2026-13-01', '2026-00-10', '2026-06-31'].map(
    (written): Bad => [column, written, NO_DATE],
  ),
  // The end of a cover lies ahead.
  ...(column === 'cover_until_on'
    ? []
    : [[column, '2026-07-01', /2026-07-01 lies after today, 2026-06-30/] as Bad]),
]
const numberFaults = (column: string): Bad[] => [
  ...['many', '84.210,5', '84,5', '84 210', '84210 km', 'NaN', 'Infinity', '0x10', '--1'].map(
    (written): Bad => [column, written, /is not a number written like 84210\.5/],
  ),
  [column, '-5', /-5 is negative/],
  [column, '-0.001', /-0\.001 is negative/],
]
const listFaults = (column: string): Bad[] => [
  [column, 'no-such-word', /"no-such-word" is not one of: /],
  [column, '0', /"0" is not one of: /],
]

const unknown = (column: string, written: string): Bad => [
  column,
  written,
  new RegExp(`"${written}" is not one of: `),
]
const NO_POSITIONS = /has no positions/
const NO_CODE = /is no trouble code: write five characters like P0302, or SPN:FMI like 94:18/
const signFaults = (column: string): Bad[] => [
  unknown(column, 'no-such-sign'),
  [column, 'misfire no-such-sign', /"no-such-sign" is not one of: /],
  [column, 'misfire@5', /misfire@5: the sign misfire has positions 1 to 4/],
  [column, 'oil-seep@1', NO_POSITIONS],
  [column, 'lamp-on@1', NO_POSITIONS],
  [column, 'misfire@0', /"misfire@0" is not a sign/],
  [column, 'misfire@', /"misfire@" is not a sign/],
]
const UNIT_UNKNOWN: Bad[] = [
  ['unit', 'V404', /"V404" is no vehicle that was taken in from vehicles\.csv/],
  ['unit', 'v1', /"v1" is no vehicle/],
  ['unit', '', /is blank, and must not be/],
]
const NAME_FAULTS: Record<TableKind, Bad[]> = {
  vehicles: [
    unknown('variant', 'no-such-variant'),
    ['unit', 'V1', /a second row for "V1"; the one on line 2 went in/],
    ['unit', '', /is blank, and must not be/],
    ['family', '', /is blank, and must not be/],
  ],
  readings: UNIT_UNKNOWN,
  codes: [
    ...UNIT_UNKNOWN,
    ...[
      'P030',
      'P03022',
      'X0302',
      'P4302',
      'P03G1',
      '0302',
      '94',
      '94:',
      ':18',
      '94:32',
      '524288:1',
      'none',
    ].map((written): Bad => ['code', written, NO_CODE]),
  ],
  checks: [...UNIT_UNKNOWN, ...signFaults('seen'), ...signFaults('looked_for')],
  repairs: [
    ...UNIT_UNKNOWN,
    unknown('weak_point', 'no-such-point'),
    unknown('revision', 'mk9'),
    ['positions', '5', /5: injector has positions 1 to 4/],
    ['positions', '1 2 7', /7: injector has positions 1 to 4/],
    ...['0', '-1', '1.5', 'left', '1,3', 'all 1'].map(
      (written): Bad => ['positions', written, /is not a position: write all, or numbers like 1 3/],
    ),
    ['restored', '1.5', /1\.5 cannot be right: the most taken is 1/],
  ],
  changes: UNIT_UNKNOWN,
}

/** What must not be refused: in another cell of the same row nothing changes. */
const FINE: Record<TableKind, Row[]> = {
  vehicles: [
    { family: 'nobody-knows', variant: 'whatever' },
    { vin: 'TOO SHORT' },
    { cover_until_on: '2199-12-31' },
    { left_on: '2026-06-30', sold_on: '2019-01-01' },
    { watched_from_km: '0', value: '0', prep_cost: '1e3' },
    blankBut('vehicles', 'unit', 'family'),
  ],
  readings: [
    // An odometer may go back: what is true is for the model to say.
    { odometer_km: '12' },
    { odometer_km: '900000', read_on: '2019-02-28' },
    { read_on: '2024-02-29', odometer_km: '0' },
    { read_on: '2026-06-30', odometer_km: '1e5' },
    blankBut('readings', 'unit', 'read_on', 'odometer_km'),
  ],
  codes: [
    // A code that the library does not know is kept without effect.
    { code: 'U3FFF' },
    { code: 'c1234' },
    { code: '524287:31' },
    { code: '094:07' },
    { state: 'permanent', lamp: 'no' },
    blankBut('codes', 'unit', 'seen_on', 'code'),
  ],
  checks: [
    { seen: 'misfire misfire@4', looked_for: '' },
    { kind: 'report', seen: '', looked_for: '' },
    { kind: 'lamp', seen: 'lamp-on' },
    blankBut('checks', 'unit', 'checked_on', 'kind'),
  ],
  repairs: [
    { weak_point: 'other', revision: '', positions: '' },
    { revision: '?', positions: 'all' },
    { weak_point: 'cover-seep', revision: '', positions: '1' },
    { restored: '0' },
    { restored: '1' },
    { unit: 'V3', weak_point: 'no-such-point', revision: 'mk9', positions: '9' }, // nobody knows that engine
    blankBut('repairs', 'unit', 'done_on', 'weak_point', 'action'),
  ],
  changes: [
    { kind: 'gap-to' },
    { kind: 'cluster', offset_km: '0' },
    blankBut('changes', 'unit', 'on', 'kind'),
  ],
}

/** Every cell blank but these. */
function blankBut(kind: TableKind, ...kept: string[]): Row {
  return Object.fromEntries(
    Object.keys(FULL[kind]).flatMap((name) => (kept.includes(name) ? [] : [[name, '']])),
  )
}

type Line = { row: Row; bad: Bad | 'bytes' | null }

const VEHICLES = ['V1', 'V2', 'V3']

/** Good rows at both ends and between, so that a fault that reaches beyond its row is seen. */
function linesOf(kind: TableKind): Line[] {
  let made = 0
  const rowOf = (changed: Row): Row => {
    made++
    const own = { ref: `${kind}-${made}`, ...(kind === 'vehicles' ? { unit: `N${made}` } : {}) }
    return { ...FULL[kind], ...own, ...changed }
  }
  const fine = FINE[kind].map((changed): Line => ({ row: rowOf(changed), bad: null }))
  const faults: (Bad | 'bytes')[] = [
    ...DATES[kind].flatMap(dateFaults),
    ...NUMBERS[kind].flatMap(numberFaults),
    ...LISTS[kind].flatMap(listFaults),
    ...NAME_FAULTS[kind],
    'bytes',
  ]
  const bad = faults.flatMap((fault): Line[] => [
    { row: rowOf(fault === 'bytes' ? {} : { [fault[0]]: fault[1] }), bad: fault },
    { row: rowOf({}), bad: null },
  ])
  const known = kind === 'vehicles' ? VEHICLES.map(vehicleNamed) : [{ row: rowOf({}), bad: null }]
  return [...known, ...bad, ...fine]
}

const vehicleNamed = (unit: string): Line => ({
  row: {
    ...FULL.vehicles,
    unit,
    ref: unit,
    ...(unit === 'V3' ? { family: 'nobody-knows', variant: '' } : {}),
  },
  bad: null,
})

function bytesOf(kind: TableKind, lines: readonly Line[]): Uint8Array {
  const columns = Object.keys(FULL[kind])
  const parts = lines.map(({ row, bad }) => {
    const bytes = Buffer.from(csvLine(columns.map((column) => row[column] ?? '')))
    if (bad === 'bytes') bytes[bytes.lastIndexOf('-')] = 0xfc // inside a date or a key: a letter of another encoding
    return bytes
  })
  return Buffer.concat([Buffer.from(csvLine(columns)), ...parts])
}

const FOLDER = Object.fromEntries(TABLE_KINDS.map((kind) => [kind, linesOf(kind)])) as Record<
  TableKind,
  Line[]
>
const intake = takeIn(
  Object.fromEntries(TABLE_KINDS.map((kind) => [`${kind}.csv`, bytesOf(kind, FOLDER[kind])])),
)

describe.each(TABLE_KINDS)('of %s', (kind) => {
  const lines = FOLDER[kind].map((line, place) => ({ ...line, line: place + 2 }))
  const refused = intake.rejected.filter(({ file }) => file === `${kind}.csv`)

  test('every column is tried', () => {
    const tried = [DATES, NUMBERS, LISTS, TEXTS, NAMES].flatMap((columns) => columns[kind])
    expect(tried.toSorted()).toEqual(Object.keys(TABLES[kind].shape).toSorted())
    expect(Object.keys(FULL[kind]).toSorted()).toEqual(tried.toSorted())
  })

  test('exactly the bad rows are refused, each with its line, its column and why', () => {
    const expected = lines.filter(({ bad }) => bad !== null)
    expect(refused.map(({ line }) => line)).toEqual(expected.map(({ line }) => line))
    expect(expected.length).toBeGreaterThan(10)
    expected.forEach(({ bad }, place) => {
      const [column, written, reason] =
        bad === 'bytes' ? ['', '', /holds bytes that are not UTF-8/] : (bad as Bad)
      const found = refused[place]
      const what = `${column} “${written}”: ${found?.reason}`
      expect(found?.reason, what).toMatch(reason)
      expect(found?.column, what).toBe(column)
      expect(found?.reason, what).not.toMatch(/; [a-z_]+: /) // one fault, not two
      if (bad !== 'bytes') expect(found?.row, what).toContain(csvLine([written]).trim())
    })
  })

  test('and all others go in', () => {
    const good = lines.filter(({ bad }) => bad === null)
    expect(intake.records[kind].map(({ line }) => line)).toEqual(good.map(({ line }) => line))
  })
})

test('nothing else is said to be refused', () => {
  const bad = TABLE_KINDS.flatMap((kind) => FOLDER[kind].filter((line) => line.bad !== null))
  expect(intake.rejected).toHaveLength(bad.length)
  expect(bad.length).toBeGreaterThan(400)
})

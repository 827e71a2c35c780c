import fs from 'node:fs'
import path from 'node:path'
import { parse } from 'csv-parse/sync'
import { expect, test } from 'vitest'
import { answeredTwin } from '@/app/(people)/twins/answer-twin'
import { csvText, jsonPieces, told } from '@/app/(people)/twins/twin'
import { twinAddress, twinBelow } from '@/app/(people)/twins/twin-address'
import { parseDay } from '@/lib/units/dates'

const PEOPLE = path.resolve('app/(people)')
const files = (ending: string) =>
  fs
    .readdirSync(PEOPLE, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending))
    .sort()
const text = (file: string) => fs.readFileSync(path.join(PEOPLE, file), 'utf8')

/** Where the data of each table of the pages stands; or why it stands nowhere by itself. */
const TABLES: Record<string, readonly string[] | { none: string }> = {
  'watchlist-table.tsx': ['watchlist'],
  'audit/audit-table.tsx': ['audit'],
  'calls/call-table.tsx': ['calls', 'letters'],
  'families/family-table.tsx': ['families'],
  'families/[key]/sign-matrix.tsx': ['families/[key]/signs', 'families/[key]/weak-points'],
  'families/[key]/version-table.tsx': { none: 'versions are in the library’s file' },
  'fault-finding/fault-sections.tsx': ['fault-finding/causes'],
  'fault-finding/step-table.tsx': ['fault-finding'],
  'intake/past-intakes.tsx': ['intake'],
  'intake/[id]/file-table.tsx': ['intake/[id]/files', 'intake/[id]/rejected'],
  'intake/[id]/mend/mend-table.tsx': { none: 'a form; its rows are those of intake/[id]/rejected' },
  'intake/workbook/[id]/sheet-list.tsx': { none: 'a form about somebody’s own workbook' },
  'intake/workbook/[id]/sheet/[place]/page.tsx': { none: 'a form about somebody’s own workbook' },
  'intake/workbook/[id]/words/[meaning]/page.tsx': { none: 'a form about somebody’s own workbook' },
  'intake/workbook/[id]/work/page.tsx': { none: 'a form about somebody’s own workbook' },
  'looks/looks-sections.tsx': { none: 'the looks, cut otherwise: rows of looks and of the watchlist' },
  'looks/looks-table.tsx': ['looks'],
  'money/policies-section.tsx': ['money/policies'],
  'money/quarter-table.tsx': ['money'],
  'paper/paper-page.tsx': { none: 'a paper, which is a PDF as well' },
  'parts/early-section.tsx': ['parts/early'],
  'parts/part-detail.tsx': { none: 'what one row of parts comes from: chances that the watchlist has' },
  'parts/parts-table.tsx': ['parts', 'parts/order'],
  'plan/anew-section.tsx': {
    none: 'a question that is answered on the spot; the plan is told when it is taken',
  },
  'plan/plan-grid.tsx': ['plan'],
  'plan/plan-lists.tsx': ['plan/left'],
  'proposals/proposal-table.tsx': ['proposals'],
  'proposals/turnout-table.tsx': { none: 'counts of the rows of proposals' },
  'reports/report-table.tsx': ['reports'],
  'settings/digest-form.tsx': { none: 'mails that could not be sent, for owners' },
  'settings/members.tsx': { none: 'people, for owners to manage' },
  'settings/people/invitation-table.tsx': { none: 'people, for owners to manage' },
  'settings/people/member-table.tsx': { none: 'people, for owners to manage' },
  'settings/you/session-table.tsx': { none: 'somebody’s own sessions' },
  'settings/webhook-section.tsx': { none: 'what was told last, for owners' },
  'settings/tokens.tsx': { none: 'tokens, for owners to manage' },
  'stock/stock-table.tsx': ['stock'],
  'track-record/forecaster-table.tsx': { none: 'stands in track-record.json, whole' },
  'track-record/money-table.tsx': { none: 'stands in track-record.json, whole' },
  'track-record/weak-point-table.tsx': { none: 'stands in track-record.json, whole' },
  'vehicles/[unit]/before-sale/sale-table.tsx': ['vehicles/[unit]/before-sale'],
  'vehicles/[unit]/component-table.tsx': ['vehicles/[unit]/components'],
  'vehicles/[unit]/record-list.tsx': ['vehicles/[unit]/records'],
  'vehicles/[unit]/said/[repair]/said-sections.tsx': {
    none: 'a page to be read, with what was said of one failure',
  },
  'vehicles/[unit]/set-aside/aside-sections.tsx': ['vehicles/[unit]/set-aside'],
  'vehicles/[unit]/visit-section.tsx': { none: 'one row of visits, opened' },
  'vehicles/[unit]/why-section.tsx': { none: 'reasons of one chance, reckoned when they are asked for' },
  'vehicles/[unit]/without-records.tsx': { none: 'reasons of one chance, reckoned when they are asked for' },
  'visits/visits-table.tsx': ['visits'],
  'bid/bid-sections.tsx': { none: 'about a vehicle that is on no record' },
}

test('every table of the pages has its data at an address of its own, or a reason why not', () => {
  const withTable = files('.tsx').filter((file) => /<table\b/.test(text(file)))
  expect(withTable).toEqual(Object.keys(TABLES).sort())
})

const addresses = Object.values(TABLES).flatMap((where) => ('none' in where ? [] : where))

test('each address stands as CSV and as JSON, of one definition, and is linked from a page', () => {
  const routes = new Set(files('route.ts'))
  const pages = files('.tsx').map(text).join('\n')
  for (const address of new Set(addresses)) {
    const [csv, json] = ['csv', 'json'].map((form) => `${address}.${form}/route.ts`)
    expect([routes.has(csv!), routes.has(json!)], address).toEqual([true, true])
    const twins = [csv!, json!].map((file) => /Of\((\w+Twin)\)/.exec(text(file))?.[1])
    expect([twins[0], twins[1]], address).toEqual([twins[0], twins[0]])
    const name = path.basename(address)
    expect(pages.includes(`${name}.csv`) || pages.includes(`'${name}')`), `${address} is linked`).toBe(true)
  }
})

test('no CSV file of the pages is made another way', () => {
  const others = files('route.ts').filter((file) => file.includes('.csv/') && !/csvOf\(/.test(text(file)))
  expect(others).toEqual([])
})

type Row = { unit: string; price: number | null; stop: boolean }
const ROWS: Row[] = [
  { unit: '=1+1', price: -12.5, stop: true },
  { unit: 'a "b", c\nd', price: null, stop: false },
]
const table = (rows = ROWS) =>
  told<Row>(
    'things',
    parseDay('2026-06-30')!,
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['price', 'Price', ({ price }) => price, 'EUR'],
      ['stop', 'Must stop', ({ stop }) => stop],
    ],
    rows,
  )

test('CSV has units in its headings, the day in a column, yes and no, and nothing that a spreadsheet runs', () => {
  expect(parse(csvText(table()), { columns: true })).toEqual([
    { Vehicle: "'=1+1", 'Price (EUR)': '-12.5', 'Must stop': 'yes', 'As of': '2026-06-30' },
    { Vehicle: 'a "b", c\nd', 'Price (EUR)': '', 'Must stop': 'no', 'As of': '2026-06-30' },
  ])
  expect(csvText(table([]))).toBe('Vehicle,Price (EUR),Must stop,As of\r\n')
})

test('JSON has the day, what was asked, the columns with their units, and the rows as they are', () => {
  const json = JSON.parse([...jsonPieces(table(), { site: 'North' })].join(''))
  expect(json).toEqual({
    asOf: '2026-06-30',
    filters: { site: 'North' },
    columns: [
      { key: 'unit', heading: 'Vehicle', unit: null },
      { key: 'price', heading: 'Price', unit: 'EUR' },
      { key: 'stop', heading: 'Must stop', unit: null },
    ],
    items: ROWS,
  })
  expect(JSON.parse([...jsonPieces(table([]), {})].join('')).items).toEqual([])
})

test('it is sent as it is made: rows that nobody has read yet are not made', async () => {
  let made = 0
  const counting = ({ unit }: Row) => {
    made++
    return unit
  }
  const rows = Array.from({ length: 50_000 }, (_, i) => ({ unit: `V-${i}`, price: i, stop: false }))
  const counted = told<Row>('long', null, [['unit', 'Vehicle', counting]], rows)
  const answer = answeredTwin(counted, 'csv', {})
  const reader = answer.body!.getReader()
  const { value } = await reader.read()
  expect(value!.byteLength).toBeLessThan(100_000)
  expect(made).toBeLessThan(rows.length / 2)
  await reader.cancel()
  const whole = await answeredTwin(counted, 'json', { sort: 'unit' }).json()
  expect(whole.items).toHaveLength(rows.length)
})

test('a file is named after the table and the day, whatever is in the name', () => {
  const answer = answeredTwin({ ...table(), name: 'records of a/"b"' }, 'csv', {})
  expect(answer.headers.get('Content-Disposition')).toBe(
    'attachment; filename="records-of-a-b-2026-06-30.csv"',
  )
  expect(answer.headers.get('Cache-Control')).toBe('private, no-store')
})

test('the address of the data keeps what the page was asked', () => {
  expect(twinAddress('/x.csv', { unit: 'a b', site: ['n', 's'], none: undefined })).toBe(
    '/x.csv?unit=a+b&site=n&site=s',
  )
  expect(twinAddress('/x.csv')).toBe('/x.csv')
  expect(twinBelow('/vehicles/7?days=30', 'records')).toBe('/vehicles/7/records.csv?days=30')
  expect(twinBelow('/vehicles/7', 'records')).toBe('/vehicles/7/records.csv')
})

/** Whatever a workbook holds and whatever is said of it: no row is lost, and none is counted twice. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ROW_KINDS } from '@/lib/intake/tables'
import type { AppliedFile } from '@/lib/intake/workbook/applied'
import {
  type ColumnMapping,
  DATE_ORDERS,
  type Mapping,
  MEANING_KEYS,
  MEANINGS,
  type Meaning,
  mappingSchema,
  type SheetMapping,
} from '@/lib/intake/workbook/mapping'
import { formatDay } from '@/lib/units/dates'
import { TODAY } from '../folder'
import { type BroughtIn, bringIn } from './bring-in'
import { dayCell, sheetOf, type Written } from './messy-workbooks'

const COLUMNS = 7
const STANDING = ['V1', 'V2'].map((unit) => ({ unit, family: 'plover-22' }))

const HARD = [
  '__proto__',
  'constructor',
  '"',
  '",',
  '\n',
  '=1+1',
  'P0302',
  'repl inj 3',
  '84.210',
  '\ud800',
  ' ',
]
const anything: fc.Arbitrary<Written> = fc.oneof(
  fc.constant(null),
  fc.constantFrom(...HARD),
  fc.string({ maxLength: 12 }),
  fc.integer({ min: -5, max: 200_000 }),
)

/** What may well stand in a column that is read so. */
const FITTING: Record<ReturnType<typeof readsOf>, fc.Arbitrary<Written>> = {
  text: fc.constantFrom('V1', 'V2', 'V3'),
  date: fc.integer({ min: TODAY - 500, max: TODAY + 5 }).map((day) => dayCell(formatDay(day))),
  number: fc.constantFrom<Written>(120, '84,5', '1.250'),
  distance: fc.constantFrom<Written>(84_210, '84.210', '184k', '52,300 mi'),
  words: fc.constantFrom('plover 2.2', 'failed', 'oil seep', 'yes', 'ok', 'used engine', 'renew'),
  work: fc.constantFrom('repl inj 3', 'inj 1 & 2 failed; oil service', 'oil', 'vac pump gasket; checked inj'),
  codes: fc.constantFrom('P0302, P0301', 'no codes', 'SPN 94 FMI 18', '-'),
}
const readsOf = (meaning: Meaning) => MEANINGS[meaning].reads

interface Said extends Pick<SheetMapping, 'tells' | 'date'> {
  meanings: Meaning[]
  answers: Pick<SheetMapping['answers'], 'looksCover' | 'whichOfSeveral' | 'odometerFrom'>
  reading: Omit<ColumnMapping, 'meaning'>
}

const said: fc.Arbitrary<Said> = fc.record({
  meanings: fc
    .array(fc.constantFrom(...MEANING_KEYS), { minLength: COLUMNS - 2, maxLength: COLUMNS - 2 })
    .map((others): Meaning[] => ['unit', 'date', ...others]),
  tells: fc.uniqueArray(fc.constantFrom(...ROW_KINDS), { minLength: 1 }),
  date: fc.constantFrom('2026-05-01', null),
  answers: fc.record({
    looksCover: fc.constantFrom('all', 'written', null),
    whichOfSeveral: fc.constantFrom('all', 'one-unknown', null),
    odometerFrom: fc.constantFrom('new', 'installation', null),
  }),
  reading: fc.record({
    order: fc.constantFrom(...DATE_ORDERS, null),
    distance: fc.constantFrom('km', 'mi'),
    decimal: fc.constantFrom('point', 'comma', null),
  }),
})

/** Mostly rows of what was said of their columns, under a heading or none, and among them anything. */
const workbookOf = ({ meanings }: Said): fc.Arbitrary<Written[][]> => {
  const fitting = meanings.map((meaning) => FITTING[readsOf(meaning)])
  const odd = fc.array(anything, { minLength: 1, maxLength: COLUMNS + 1 })
  const row = fc.oneof({ weight: 3, arbitrary: fc.tuple(...fitting) }, { weight: 1, arbitrary: odd })
  const heading = fc.constantFrom<Written[][]>([], [[], meanings.map((_, i) => `column of ${'abcdefg'[i]}`)])
  return fc.tuple(heading, fc.array(row, { maxLength: 12 })).map(([above, rows]) => [...above, ...rows])
}

function saying({ meanings, tells, date, answers, reading }: Said) {
  return (mapping: Mapping) => {
    const sheet = mapping.sheets.Any
    if (!sheet) throw new Error('the sheet is not there')
    Object.assign(sheet, { tells, date })
    Object.assign(sheet.answers, answers)
    Object.keys(sheet.columns).forEach((key, i) => {
      sheet.columns[key] = { meaning: meanings[i] ?? 'note', ...reading }
    })
  }
}

const textOf = (written: Written) =>
  String((typeof written === 'object' ? written?.text : written) ?? '').trim()
const saysSomething = (row: readonly Written[] | undefined) =>
  row?.some((cell) => textOf(cell) !== '') ?? false

/** Every row below the heading that says something is given or left out. */
function expectRowsCounted({ told, mapping }: BroughtIn, rows: readonly Written[][]): void {
  const { headerRow = null } = mapping.sheets.Any ?? {}
  const count = rows.slice(headerRow ?? 0).filter(saysSomething).length
  for (const { given, leftOut } of told)
    expect(given + Object.values(leftOut).reduce((sum, rows) => sum + rows, 0)).toBe(count)
}

/** Every line of a file is accepted, refused, a double or replaced; a refused one is a row of the sheet. */
function expectLinesCounted(file: AppliedFile, { read }: BroughtIn, rows: readonly Written[][]) {
  const table = read.tables.find(({ name }) => name === file.name)
  const ofParts = read.parts.find(({ name }) => name === file.name)
  const either = table ?? ofParts
  if (!either) throw new Error(`${file.name} was not read`)
  const { rejected, heading } = either
  const { duplicates, replaced } = table ?? { duplicates: 0, replaced: 0 }
  const lines = new TextDecoder().decode(file.bytes).split('\r\n')
  const accepted = table ? table.records[table.kind].length : ofParts!.parts.length
  expect(heading).not.toBeNull()
  expect(accepted + rejected.length + duplicates + replaced).toBe(
    lines.filter((line) => line !== '').length - 1,
  )
  for (const { line } of rejected) {
    const inSheet = line <= file.lastRow ? line : (file.further[line - file.lastRow - 1] ?? 0)
    expect(saysSomething(rows[inSheet - file.shift - 1])).toBe(true)
  }
  return { accepted, rejected: rejected.length, further: file.further.length }
}

test('every row is given or left out, and every given record accepted or refused where it stands', () => {
  const all = { accepted: 0, rejected: 0, further: 0 }
  const given = said.chain((each) => fc.tuple(fc.constant(each), workbookOf(each)))
  fc.assert(
    fc.property(given, ([each, rows]) => {
      const workbook = { sheets: [sheetOf('Any', rows)] }
      const brought = bringIn(workbook, { standing: STANDING, change: saying(each) })
      expect(mappingSchema.safeParse(brought.mapping).success).toBe(true)
      expect(brought.read.refused).toEqual([])
      expectRowsCounted(brought, rows)
      for (const file of brought.files) {
        const counts = expectLinesCounted(file, brought, rows)
        for (const key of ['accepted', 'rejected', 'further'] as const) all[key] += counts[key]
      }
    }),
    { numRuns: 300 },
  )
  // Each way was gone often: about 500, 600 and 60 times.
  expect(Math.min(all.accepted, all.rejected)).toBeGreaterThan(100)
  expect(all.further).toBeGreaterThan(5)
})

import { csvLine } from '@/lib/intake/csv-line'
import { type Day, formatDay } from '@/lib/units/dates'

/**
 * The data of a table of the pages: every table has an address of its own where its rows stand as CSV, and one where
 * they stand as JSON, both made of one list of columns.
 */

export type Cell = string | number | boolean | null

/** A column: its name for programs, its heading for people, and the unit of its numbers (the currency, hours …). */
export type Column<Row> = readonly [
  key: string,
  heading: string,
  value: (row: Row) => Cell,
  unit?: string | null,
]

/** A table told: the day that it speaks of, its columns, and its rows, cell by cell, as they are asked for. */
export type Told = {
  /** What a file of it is called. */
  name: string
  asOf: Day | null
  columns: readonly { key: string; heading: string; unit: string | null }[]
  cells: () => Iterable<Cell[]>
}

export const told = <Row>(
  name: string,
  asOf: Day | null,
  columns: readonly Column<Row>[],
  rows: readonly Row[],
): Told => ({
  ...{ name, asOf },
  columns: columns.map(([key, heading, , unit = null]) => ({ key, heading, unit })),
  cells: function* () {
    for (const row of rows) yield columns.map(([, , value]) => value(row))
  },
})

/** A day as both forms write it. */
export const dayCell = (day: Day | null | undefined): string | null =>
  day === null || day === undefined ? null : formatDay(day)

/** What a spreadsheet would take for a formula (OWASP, CSV injection). */
const FORMULA = /^[=+\-@\t\r]/

/** A text that no spreadsheet runs: what begins like a formula gets an apostrophe. Numbers are left as they are. */
export const harmless = (cell: string | number | null): string | number | null =>
  typeof cell === 'string' && FORMULA.test(cell) ? `'${cell}` : cell

const written = (cell: Cell) => harmless(typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : cell)

/**
 * The table as RFC 4180 has it, in pieces. Units stand in the headings, and the day that it speaks of in a last column: a
 * line above the headings would be taken for them.
 */
export function* csvPieces({ asOf, columns, cells }: Told): Generator<string, void, undefined> {
  const headings = columns.map(({ heading, unit }) => (unit === null ? heading : `${heading} (${unit})`))
  yield csvLine([...headings, 'As of'].map(harmless))
  for (const row of cells()) yield csvLine([...row.map(written), dayCell(asOf)])
}

export const csvText = (table: Told): string => [...csvPieces(table)].join('')

/** What an address asks beside the table itself. */
export type Filters = Record<string, string | string[]>

/** The same as JSON, in pieces: `{ asOf, filters, columns, items }`, an item a row with the columns' keys. */
export function* jsonPieces(
  { asOf, columns, cells }: Told,
  filters: Filters,
): Generator<string, void, undefined> {
  const head = JSON.stringify({ asOf: dayCell(asOf), filters, columns })
  yield `${head.slice(0, -1)},"items":[`
  let comma = '\n'
  for (const row of cells()) {
    const item = Object.fromEntries(columns.map(({ key }, i) => [key, row[i] ?? null]))
    yield comma + JSON.stringify(item)
    comma = ',\n'
  }
  yield '\n]}\n'
}

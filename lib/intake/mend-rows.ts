import type { RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import { cellsOf } from './inner/rejected-cells'
import type { Edits } from './mend-file'
import { type Mend, mendCell } from './mends'

/** Rejected rows of a file with their cells under its columns. */
export function withCells<Row extends RejectedRow>(
  rejected: readonly Row[],
  heading: Heading,
): (Row & { cells: string[] })[] {
  return rejected.map((row) => ({ ...row, cells: cellsOf(row.row, heading) }))
}

/** What one change makes of rejected rows, in the column at fault of each. */
export function editsBy(rejected: readonly RejectedRow[], heading: Heading, mend: Mend): Edits {
  return new Map(
    withCells(rejected, heading).map(({ line, column, cells }) => {
      const place = heading.written.indexOf(column)
      return [line, cells.map((cell, i) => (i === place ? mendCell(cell, mend) : cell))]
    }),
  )
}

/** Rows of a table that hold a remark: what somebody wrote below it, or between its parts. */
import type { Sheet, SheetCell } from '../sheets'

type Row = Sheet['rows'][number]

/** A table whose rows hold fewer cells than this has no shape from which a remark would differ. */
const LEAST_CELLS = 3
const LEAST_WORDS = 3
const ROWS_LOOKED_AT = 2000

/**
 * A test of whether a row is a remark: it holds one cell, a text of several words, where most rows hold at least three
 * cells. A number, a name or a date alone is the beginning of a row that somebody has not finished: it is no remark.
 *
 * @param rows of the table, below its heading
 */
export function remarkIn(rows: readonly Row[]): (row: Row) => boolean {
  const sizes = rows
    .slice(0, ROWS_LOOKED_AT)
    .map((row) => filledOf(row).length)
    .filter((size) => size > 0)
    .sort((a, b) => a - b)
  const usual = sizes[Math.floor(sizes.length / 2)] ?? 0
  if (usual < LEAST_CELLS) return () => false
  return (row) => {
    const [cell, other] = filledOf(row)
    return cell !== undefined && other === undefined && isSentence(cell)
  }
}

const filledOf = (row: Row): SheetCell[] => row.filter((cell) => cell !== null)

const isSentence = ({ text, number }: SheetCell): boolean =>
  number === undefined && (text.match(/\p{L}{2,}/gu)?.length ?? 0) >= LEAST_WORDS

import type { Sheet, SheetCell } from './sheets'

type Row = Sheet['rows'][number]

/** Titles, notes and blank rows above the columns; what heads a table further down is told by hand. */
const ROWS_LOOKED_AT = 60
const ROWS_BELOW = 25
/** A row that is this near to the best and stands above it heads the table: units stand below names. */
const AS_GOOD = 0.9
const LEAST_LABELS = 0.6
const LEAST_COVERED = 0.4
const LONGEST_LABEL = 80

/**
 * Finds the row that names the columns: words, short and different from each other, over as many columns as the rows
 * below it fill, best where these hold figures.
 *
 * @returns 1 for the first row of the sheet; null where no row names columns: then the first one is data
 */
export function findHeading(rows: readonly Row[]): number | null {
  const filled = rows
    .slice(0, ROWS_LOOKED_AT + ROWS_BELOW)
    .flatMap((row, index) => (isBlank(row) ? [] : [{ row, index }]))
  const [only] = filled
  if (only && filled.length === 1) return labelled(only.row) >= LEAST_LABELS ? only.index + 1 : null
  const scored = filled
    .filter(({ index }) => index < ROWS_LOOKED_AT)
    .map(({ row, index }, place) => ({
      index,
      score: scoreOf(row, filled.slice(place + 1, place + 1 + ROWS_BELOW)),
    }))
  const best = Math.max(0, ...scored.map(({ score }) => score))
  if (best === 0) return null
  const found = scored.find(({ score }) => score >= AS_GOOD * best)
  return found ? found.index + 1 : null
}

export const isBlank = (row: Row): boolean => row.every((cell) => cell === null)

/** Whether a cell could name a column: words, and not many. */
const isLabel = (cell: SheetCell): boolean =>
  cell.number === undefined && cell.text.length <= LONGEST_LABEL && !isFigures(cell.text)

/** Figures with at most a unit, a currency or a month's name among them: `84.210 km`, `V012`, `12 Mar 2025`. */
const isFigures = (text: string): boolean => /\d/.test(text) && (text.match(/\p{L}/gu)?.length ?? 0) <= 3

/** The share of its cells that could name a column. */
function labelled(row: Row): number {
  const cells = row.filter((cell) => cell !== null)
  return cells.filter(isLabel).length / cells.length
}

function scoreOf(row: Row, below: readonly { row: Row }[]): number {
  const labels = labelled(row)
  if (labels < LEAST_LABELS || below.length === 0) return 0
  const texts = row.flatMap((cell) => (cell === null ? [] : [cell.text.toLowerCase()]))
  const different = new Set(texts).size / texts.length
  const { covered, named, contrast, repeated } = againstBelow(row, below)
  if (covered < LEAST_COVERED || repeated >= 0.5) return 0
  // A name and its value above two full columns cover many cells of a table whose others are nearly empty.
  return labels * Math.min(covered, named) * (0.5 + 0.5 * different) * (0.3 + 0.7 * contrast)
}

/**
 * What the rows below say of a row: the share of their cells that stand in its columns, the share of their columns that it
 * names, the share of these that hold figures under words, and the share of its texts that come again among all others of
 * their column.
 */
function againstBelow(row: Row, below: readonly { row: Row }[]) {
  const others = below.filter((other) => !isSame(row, other.row))
  const width = Math.max(row.length, ...others.map((other) => other.row.length))
  let [cells, under, columns, named, contrasting, again] = [0, 0, 0, 0, 0, 0]
  for (let column = 0; column < width; column++) {
    const label = row[column] ?? null
    const values = others.flatMap((other) => other.row[column] ?? [])
    cells += values.length
    if (values.length > 0) columns += 1
    if (label === null) continue
    under += values.length
    if (values.length === 0) continue
    named += 1
    if (isLabel(label) && values.filter((value) => !isLabel(value)).length > values.length / 2)
      contrasting += 1
    if (values.some((value) => value.text === label.text)) again += 1
  }
  if (cells === 0 || named === 0) return { covered: 0, named: 0, contrast: 0, repeated: 0 }
  return {
    covered: under / cells,
    named: named / columns,
    contrast: contrasting / named,
    repeated: again / named,
  }
}

/** Whether a row is another once more: where it names columns, it may do so again further down. */
const isSame = (a: Row, b: Row): boolean =>
  a.every((cell, column) => cell?.text === b[column]?.text) && a.length >= b.length

/** Rows below a heading that tell of no case of their own: the heading once more, units, sums. */
import { wordKey } from '../mapping'
import type { Sheet, SheetCell } from '../sheets'

type Row = Sheet['rows'][number]

/** A test of whether a row names the columns of a heading once more. */
export function repeatOf(heading: Row): (row: Row) => boolean {
  const names = heading.flatMap((cell, index) => (cell === null ? [] : [{ index, text: wordKey(cell.text) }]))
  if (names.length === 0) return () => false
  const mostOthers = names.length - Math.min(names.length, Math.max(2, names.length * 0.8))
  return (row) => {
    let others = 0
    for (const { index, text } of names) {
      const cell = row[index]
      if ((!cell || wordKey(cell.text) !== text) && ++others > mostOthers) return false
    }
    return row.filter((cell) => cell !== null).length <= names.length
  }
}

/** Units and forms of dates (common practice, no source); any other word could be what somebody wrote of a job. */
const UNIT =
  /^[[(]?(?:t?km|kms|mi|miles?|mls|€|eur|euro|usd|\$|gbp|£|chf|sfr|h|hrs?|hours?|std|stunden|heures|horas|min|days?|tage|%|l|liters?|litres?|no|nr|[ydmtjan]{1,4}(?:[-./ ][ydmtjan]{1,4}){1,2}|#+)\.?[\])]?$/i

/** Whether the row below the heading holds units alone, one of them over a column that holds numbers further down. */
export function holdsUnits(row: Row, below: readonly Row[]): boolean {
  const cells = row.flatMap((cell, index) => (cell === null ? [] : [{ cell, index }]))
  if (!cells.every(({ cell }) => cell.number === undefined && UNIT.test(cell.text))) return false
  return cells.some(({ index }) => holdsNumbers(below.flatMap((other) => other[index] ?? [])))
}

const holdsNumbers = (cells: readonly SheetCell[]): boolean =>
  cells.length > 0 && cells.filter((cell) => summandOf(cell) !== null).length > cells.length / 2

/** What can be summed; days cannot. */
function summandOf({ text, number, iso }: SheetCell): number | null {
  if (iso !== undefined) return null
  if (number !== undefined) return number
  const match = /^[-+]?[\d.,' \u00a0\u202f]*\d$/.test(text) && !/^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}$/.test(text)
  return match ? looseNumber(text) : null
}

/** Good enough to compare sums: the last mark parts the rest where other than three figures stand behind it. */
function looseNumber(text: string): number | null {
  const plain = text.replace(/[' \u00a0\u202f]/g, '')
  const rest = /[.,](\d{1,2}|\d{4,})$/.exec(plain)?.[1] ?? ''
  const whole = rest === '' ? plain : plain.slice(0, -rest.length - 1)
  const value = Number(`${whole.replace(/[.,]/g, '')}.${rest}0`)
  return Number.isFinite(value) ? value : null
}

const TOTAL =
  /^(?:(?:grand|sub)?[- ]?totals?|(?:gesamt|zwischen|end)?[- ]?summen?|sums?|gesamt|insgesamt|averages?|mean|mittelwert|durchschnitt|sous[- ]?total|total g[ée]n[ée]ral|totaux|sommes?|moyenne|promedio|sumas?|totale|totali|media|totaal|razem|suma|celkem|итого|всего|summa|i alt|yhteensä|toplam)(?: *[:=]| +\d[\d./-]*| +(?:km|mi|miles|cost|costs|kosten|hours|stunden|€|eur))*$/iu

/**
 * Whether a row begins with a word for a sum, holds a number further on, and lacks something that nearly all rows have:
 * a supplier may be called by such a word.
 *
 * @param needed the columns that nearly all rows fill with other than numbers
 */
export function isNamedTotal(row: Row, needed: ReadonlySet<number>): boolean {
  const place = row.findIndex((cell) => cell !== null)
  const first = row[place]
  if (!first || first.number !== undefined || !TOTAL.test(first.text)) return false
  const others = [...needed].filter((index) => index !== place)
  if (others.length > 0 && others.every((index) => row[index])) return false
  return row.some((cell) => cell !== null && cell !== first && summandOf(cell) !== null)
}

/** Sums up the number columns of a table, row by row, to know a row of sums that carries no name. */
export class Sums {
  private readonly sums = new Map<number, { sum: number; rows: number }>()

  /** @param numberColumns those that hold numbers, by their index */
  constructor(
    private readonly numberColumns: ReadonlySet<number>,
    private readonly needed: ReadonlySet<number>,
  ) {}

  /**
   * Whether a row is filled in number columns alone, lacks what nearly all rows have, and one of its numbers is the sum
   * of those above it.
   */
  isTotal(row: Row): boolean {
    if (!this.holdsNumbersAlone(row)) return false
    const filled = row.flatMap((cell, index) => (cell === null ? [] : [{ cell, index }]))
    if (![...this.needed].some((index) => !row[index])) return false
    return filled.some(({ cell, index }) => {
      const above = this.sums.get(index)
      const value = summandOf(cell)
      return above !== undefined && above.rows > 1 && value !== null && isNear(value, above.sum)
    })
  }

  /** Asked of every row of a table: nearly all end it at their first name. */
  private holdsNumbersAlone(row: Row): boolean {
    let isFilled = false
    for (const [index, cell] of row.entries()) {
      if (cell === null) continue
      if (!this.numberColumns.has(index)) return false
      isFilled = true
    }
    return isFilled
  }

  add(row: Row): void {
    for (const index of this.numberColumns) {
      const value = row[index] ? summandOf(row[index]) : null
      if (value === null) continue
      const above = this.sums.get(index)
      if (above === undefined) this.sums.set(index, { sum: value, rows: 1 })
      else {
        above.sum += value
        above.rows += 1
      }
    }
  }

  /** Begins anew: below a row of sums those of the next part are summed up. */
  clear(): void {
    this.sums.clear()
  }
}

const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(b))

/** Which columns hold numbers, and which nearly all rows fill. */
export function kindsOfColumns(rows: readonly Row[]): { numbers: Set<number>; needed: Set<number> } {
  const counts = new Map<number, { filled: number; numbers: number }>()
  let filledRows = 0
  for (const row of rows) {
    let isFilled = false
    row.forEach((cell, index) => {
      if (cell === null) return
      isFilled = true
      const count = counts.get(index) ?? { filled: 0, numbers: 0 }
      count.filled += 1
      if (summandOf(cell) !== null) count.numbers += 1
      counts.set(index, count)
    })
    if (isFilled) filledRows += 1
  }
  const columns = [...counts]
  return {
    numbers: new Set(
      columns.flatMap(([index, { filled, numbers }]) => (numbers > 0.8 * filled ? [index] : [])),
    ),
    needed: new Set(
      columns.flatMap(([index, { filled, numbers }]) =>
        filled >= 0.8 * filledRows && numbers <= 0.8 * filled ? [index] : [],
      ),
    ),
  }
}

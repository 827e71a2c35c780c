/** What a workbook looks like: all that is needed to ask what it means, without its rows. */
import type { Noticed, SheetCell } from './sheets'

/** So many different texts of a column are kept: more are no words that somebody would explain one by one. */
export const MOST_VALUES = 5000

export interface ColumnProfile {
  /** Its own among the columns of the sheet, the same next week: the words of its header, `(2)` behind the second. */
  key: string
  /** Where it stands: the first column is 0. */
  index: number
  /** As it is written; `column C` where nothing is. */
  header: string
  /** Cells that are not blank. */
  filled: number
  /** The first five different ones. */
  samples: SheetCell[]
  /** The different texts, the commonest first; at most `MOST_VALUES`. */
  values: { text: string; count: number }[]
  /** How many different ones there are. */
  distinct: number
  /** How many cells hold a date of the workbook's own, a number, or a text. */
  dates: number
  numbers: number
  texts: number
  /** What its texts look like: how many could only be dates with the day first, with the month first, … */
  shapes: {
    /** The year first, or the month by its name: one reading only. */
    iso: number
    dayFirst: number
    monthFirst: number
    /** Both would exist, as in 03/04/2025. */
    eitherOrder: number
    /** A month and a year alone. */
    monthOnly: number
    /** `84.210`, `84.210,5`: a point between thousands, or a comma before the rest. */
    commaDecimal: number
    pointDecimal: number
    /** `84.210`: either. */
    eitherDecimal: number
  }
}

export interface SheetProfile {
  name: string
  isHidden: boolean
  /** Rows that are not blank. */
  rows: number
  /** The row (1 is the first) that names the columns; null where none seems to. */
  headerRow: number | null
  /** Rows that look like the header once more, and rows of totals: not read. */
  repeatedHeaders: number[]
  totals: number[]
  /** Rows that hold a text alone where others hold a record: a remark, not read; the first of their texts. Left out in
   * profiles from before they were looked for. */
  remarks?: number[]
  remarked?: string[]
  noticed: Noticed
  columns: ColumnProfile[]
  /** The first rows as they are shown. */
  beginning: string[][]
}

export interface WorkbookProfile {
  sheets: SheetProfile[]
  /** What is said of the whole, as `Workbook` has it. */
  notes?: string[]
}

/** A workbook as it stands, before anybody has said what it means. */

/** A cell: what is shown, and the number behind it where there is one. */
export interface SheetCell {
  /** As the workbook shows it, without the blanks around it. */
  text: string
  /** The stored number; absent for text. */
  number?: number
  /** The number is a date: days since the workbook's beginning of time, by its number format; `iso` is that day. */
  iso?: string
}

/** What was seen in a sheet and does not come in as a value; each is said, none is used. */
export interface Noticed {
  /** Ranges of merged cells: their value stands in the first cell alone. */
  merged: number
  /** Cells with a colour of their own: colours are not read. */
  coloured: number
  /** Formulas whose last result the workbook does not hold: they are blank here. */
  formulasWithoutResult: number
  /** Rows and columns that the workbook hides; they are read all the same. */
  hiddenRows: number
  hiddenColumns: number
}

export interface Sheet {
  name: string
  isHidden: boolean
  /** Row 1 of the sheet is at index 0; a blank cell is null, and rows may be of different lengths. */
  rows: (SheetCell | null)[][]
  noticed: Noticed
}

export interface Workbook {
  sheets: Sheet[]
  /** What is said of the whole, in sentences: that it has macros, which are not read; in which letters it is written. */
  notes?: string[]
}

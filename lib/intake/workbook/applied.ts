/** What comes of a workbook when people's words are applied to it. */
import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { RowKind } from '../tables'
import type { StandingVehicle } from './inner/known-vehicles'

/** What a workbook is read against. */
export interface ApplyGround {
  families: readonly Family[]
  today: Day
  /** Vehicles that are there already: what stands of them is left where a workbook does not say it. */
  standing?: readonly StandingVehicle[]
}

export interface AppliedFile {
  name: string
  kind: RowKind
  bytes: Uint8Array
  /** The sheet that it comes from, and on which line the rows of the sheet end. */
  sheet: string
  lastRow: number
  /** Its line is the row of the sheet, or one more where no row heads the sheet. */
  shift: 0 | 1
  /** The lines whose further records stand behind the last row, in order. */
  further: number[]
}

/** What became of the rows of a sheet. Every row that says something is counted once: given or left out. */
export interface AppliedSheet {
  sheet: string
  /** Rows of which something comes into a file. */
  given: number
  leftOut: {
    totals: number
    repeatedHeaders: number
    /** Rows that hold a text alone; left out where it was noted before they were told. */
    remarks?: number
    /** Rows in which nothing stands that the sheet is said to tell of. */
    nothing: number
  }
  /** Cells that say something else of a vehicle than an earlier row. */
  contradictions: number
  /** Phrases and words that are tied to nothing: kept beside, without effect. */
  beside: number
  /** What rows give beyond one record of a kind, by file; left out where it was noted before it was told. */
  further?: FurtherLines[]
}

/** Lines of a file that are no rows of the sheet: they stand behind its last one. */
export interface FurtherLines {
  file: string
  /** The first of these lines, and how many there are. */
  from: number
  lines: number
  /** From which rows of the sheet the first of them come, in order; a list of all may be very long. */
  rows: number[]
}

export interface Applied {
  files: AppliedFile[]
  told: AppliedSheet[]
}

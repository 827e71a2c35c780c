/** A row that was not taken in, with what a person needs to mend it. */
export interface RejectedRow {
  file: string
  /** Physical line in the file; the header is 1. */
  line: number
  /** The column at fault; empty where the row or the file as a whole is. */
  column: string
  reason: string
  /** The row as it was written. */
  row: string
}

/** Something that a person should know, though everything it speaks of went in. */
export interface Notice {
  file: string
  /** Null where it speaks of the file as a whole. */
  line: number | null
  message: string
}

/** Nothing can be taken in at all: the message is one line for a person, with the place and what to do. */
export class IntakeRefusal extends Error {
  override name = 'IntakeRefusal'
}

/** What is wrong with one cell (or, with an empty column, with its row). */
export interface Fault {
  column: string
  reason: string
}

import type { Library } from '@/lib/records/library'
import type { DefaultedField } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { Notice, RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import type { RowsByMonth } from './months'
import type { RecordLists, TableKind } from './tables'

/** Rows of one kind under a name: the bytes of a file, or JSON objects with its columns (the first is line 1). */
export type GivenTable = { name: string; kind: TableKind } & (
  | { bytes: Uint8Array }
  | { objects: readonly unknown[] }
)

/** What rows are read against. */
export interface Ground {
  /** The knowledge that names in the rows refer to. */
  library: Pick<Library, 'families'>
  /** Rows dated later are rejected. */
  today: Day
  /** Vehicles that rows may speak of besides those of the files. */
  standing?: Iterable<{ unit: string; family: string }>
}

/** What came of one file, besides its rows. */
export interface TableOutcome {
  rejected: RejectedRow[]
  notices: Notice[]
  /** What heads its rows; null where they could not be read, and for objects. */
  heading: Heading | null
  /** Vehicles, by unit, with the fields that were blank where blank means something: there, what stands is left. */
  defaulted: Map<string, Set<DefaultedField>>
  /** Rows that repeat another of the same file: that one counts. */
  duplicates: number
  /** Rows whose `ref` a later row of the same file has: that one counts. */
  replaced: number
  /** How many rows of records lie in which month. */
  months: RowsByMonth
}

/** A file that was read. */
export interface TableRead extends TableOutcome {
  name: string
  kind: TableKind
  /** The rows that may go in; the lists of other kinds are empty. */
  records: RecordLists
}

/** Rows of a large file, and the share of it that has been read with them. */
export type Part = { records: RecordLists; share: number }

/** A file of records so large that its rows are never there all together. */
export interface LargeTable {
  name: string
  kind: RecordTable
  /** Reads it from its beginning; what came of it is known at its end. Rows that repeat others are among them. */
  parts(rowsAtOnce: number): Generator<Part, TableOutcome, undefined>
}

export type RecordTable = Exclude<TableKind, 'vehicles'>

/** The bytes of one of them. */
export type LargeFile = { name: string; kind: RecordTable; bytes: Uint8Array }

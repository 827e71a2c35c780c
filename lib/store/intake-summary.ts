import type { Notice } from '@/lib/intake/findings'
import type { RejectedGroup } from '@/lib/intake/group-rejected'
import type { FileKind } from '@/lib/intake/kind-of-file'
import type { FamilyChange } from '@/lib/records/library-changes'
import type { EntryCounts } from './entry'

/** What a file that was brought in does, or did: counts of its rows, and when they are from. */
export type FileSummary = {
  name: string
  kind: FileKind | null
  /** Why nothing of it goes in; null where something may. */
  refused: string | null
  accepted: number
  unchanged: number
  superseded: number
  rejected: number
  /** Vehicles that it touches. */
  vehicles: number
  /** Rows by month (`2026-06`), the earliest first. */
  months: [month: string, rows: number][]
  /** What its columns are called, as they are written; null where they could not be read. */
  columns: string[] | null
}

/** What files that are brought in together do, or did. */
export type IntakeSummary = {
  files: FileSummary[]
  groups: RejectedGroup[]
  notices: Notice[]
  /** How many notices there are; the list may be shorter. */
  noticed: number
  /** Engine families that the library does not know, with how many of the vehicles name them. */
  notAssessed: { family: string; vehicles: number }[]
  /** Vehicles that are other than before. */
  vehicles: number
  /** The version of the library that was put in force, and the one before. */
  library: { before: number | null; put: number } | null
  /** What that library changes; left out where no file holds one. */
  libraryChanges?: FamilyChange[]
  /** Files that went in already, each noted with its rows, so that a start after a kill goes on behind them. */
  entered: Record<string, EnteredFile>
}

/** What became of a file's rows when they went in, and how many vehicles it touched. */
export type EnteredFile = EntryCounts & { vehicles: number }

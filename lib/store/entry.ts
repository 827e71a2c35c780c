import type { DefaultedField } from '@/lib/records/rows'

/** Who brings records in, when, and with which files. */
export type Entry = {
  now: Date
  /** A person; null where no person did it. */
  by: string | null
  intake?: string | null
  /**
   * Columns of vehicles, by unit, that stand at their default because the cell was blank: where the vehicle is there
   * already, what stands is left. Without it every word counts as given.
   */
  defaulted?: ReadonlyMap<string, ReadonlySet<DefaultedField>>
}

/** What became of the rows of one kind. */
export type EntryCounts = { accepted: number; unchanged: number; superseded: number }

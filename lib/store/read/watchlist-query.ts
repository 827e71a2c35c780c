import type { Standing } from '../standing'

/** The columns of the watchlist, in the order in which they stand. */
export const WATCHLIST_COLUMNS = [
  'unit',
  'advice',
  'weakPoint',
  'chance',
  'speaks',
  'waiting',
  'engine',
  'site',
  'odometer',
  'scan',
] as const

export type WatchlistColumn = (typeof WATCHLIST_COLUMNS)[number]

/** Which rows of the watchlist, in which order. */
export type WatchlistQuery = {
  horizonDays: number
  sort: WatchlistColumn
  descending: boolean
  /** Every word of it must be found in what the row says of the vehicle. */
  search: string
  /** Only these; all when there are none. */
  standings: Standing[]
  /** Only the vehicle of this number. */
  unit?: string
}

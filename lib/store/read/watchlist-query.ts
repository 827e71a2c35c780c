import type { Day } from '@/lib/units/dates'
import type { Standing } from '../standing'

/** The columns of the watchlist, in the order in which they stand when all are chosen. */
export const WATCHLIST_COLUMNS = [
  'unit',
  'customer',
  'contact',
  'advice',
  'weakPoint',
  'chance',
  'speaks',
  'changed',
  'next',
  'waiting',
  'combined',
  'engine',
  'site',
  'status',
  'history',
  'value',
  'asking',
  'inStock',
  'aside',
  'odometer',
  'scan',
] as const
export type WatchlistColumn = (typeof WATCHLIST_COLUMNS)[number]

export type SortKey = { column: WatchlistColumn; descending: boolean }
/** Rows are sorted by one column or two; what is equal in them stands by vehicle number, weak point and position. */
export const MOST_SORT_KEYS = 2

/** What a vehicle is apart from its weak points. */
export const VEHICLE_STATUSES = ['active', 'stock', 'sold', 'retired'] as const
export type VehicleStatus = (typeof VEHICLE_STATUSES)[number]

/** What can be asked of a row with yes or no. */
export const WATCHLIST_MARKS = [
  'history-unknown',
  'never-looked-at',
  'never-scanned',
  'odometer-old',
  'worth-it-now',
] as const
export type WatchlistMark = (typeof WATCHLIST_MARKS)[number]

/** An odometer is old when nobody has read it for so many days. */
export const ODOMETER_OLD_DAYS = 90

/** What may have become of a row since a day: newly not to be driven; another advice; likelier to fail. */
export const CHANGES = ['stop', 'advice', 'risen'] as const
export type Change = (typeof CHANGES)[number]

/** A chance has risen when it is at least so many times what it was, and by at least so much. */
export const RISEN = { ratio: 1.5, by: 0.01 }

/** Which rows of the watchlist, in which order. A list that is empty asks for nothing. */
export type WatchlistQuery = {
  per: 'vehicle' | 'weak-point'
  horizonDays: number
  sort: SortKey[]
  /** Every word of it must be found in what the row says of the vehicle. */
  search: string
  standings: Standing[]
  families: string[]
  sites: string[]
  customers: string[]
  /** Weak points by the name that the library has for them. */
  weakPoints: string[]
  statuses: VehicleStatus[]
  marks: WatchlistMark[]
  /** Only these, of what has changed since `since`. */
  changes: Change[]
  /** The day that changes are counted from; null to ask for none. */
  since: Day | null
  /** Only the vehicles of these numbers. */
  units: string[]
}

/** What narrows a list, and nothing of how it is shown. */
export const NO_FILTERS = {
  search: '',
  standings: [],
  families: [],
  sites: [],
  customers: [],
  weakPoints: [],
  statuses: [],
  marks: [],
  changes: [],
  units: [],
} satisfies Partial<WatchlistQuery>

/** Every vehicle at the organisation's own horizon: the most urgent first, then what waiting costs most for. */
export const BARE_QUERY: WatchlistQuery = {
  per: 'vehicle',
  horizonDays: 90,
  sort: [
    { column: 'advice', descending: false },
    { column: 'waiting', descending: true },
  ],
  ...NO_FILTERS,
  since: null,
}

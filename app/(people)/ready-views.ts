import { NO_FILTERS } from '@/lib/store/read/watchlist-query'
import type { READY_VIEWS } from '../ui/words'
import type { View } from './view'

export type ReadyView = keyof typeof READY_VIEWS

/** The views that are there from the start, each for somebody: what is shown, in which order, in which columns. */
const READY: Record<ReadyView, Partial<View>> = {
  slots: {
    sort: [{ column: 'waiting', descending: true }],
    columns: ['unit', 'advice', 'weakPoint', 'chance', 'speaks', 'next', 'waiting', 'site', 'odometer'],
  },
  stock: {
    statuses: ['stock'],
    sort: [{ column: 'aside', descending: true }],
    columns: [
      'unit',
      'advice',
      'weakPoint',
      'chance',
      'combined',
      'engine',
      'history',
      'value',
      'asking',
      'inStock',
      'aside',
    ],
  },
  calls: {
    standings: ['book', 'check'],
    statuses: ['active', 'sold'],
    marks: ['worth-it-now'],
    sort: [{ column: 'waiting', descending: true }],
    columns: ['unit', 'customer', 'contact', 'advice', 'weakPoint', 'chance', 'speaks', 'waiting'],
  },
}

/** A ready view, told at the same horizon and in the same unit as another. */
export function readyView(name: ReadyView, { horizonDays, distance, density }: View): View {
  return {
    ...NO_FILTERS,
    per: 'vehicle',
    since: null,
    ...READY[name],
    horizonDays,
    distance,
    density,
  } as View
}

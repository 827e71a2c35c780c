import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import {
  WATCHLIST_COLUMNS,
  type WatchlistColumn,
  type WatchlistQuery,
} from '@/lib/store/read/watchlist-query'
import { STANDINGS, type Standing } from '@/lib/store/standing'

/** What the address says of how the watchlist is seen; it can be bookmarked and sent. */
export type View = Omit<WatchlistQuery, 'unit'> & { distance: 'km' | 'mi' }

export type ParsedView = {
  view: View
  /** What the address asked for that nobody knows, as it was written; it is left out, and said so. */
  dropped: string[]
}

type SearchParameters = Record<string, string | string[] | undefined>

/** Columns that are more telling from the top when they are first sorted by. */
const GREATEST_FIRST: WatchlistColumn[] = ['chance', 'waiting', 'odometer', 'scan']

const defaultView = (distance: View['distance']): View => ({
  horizonDays: 90,
  sort: 'advice',
  descending: false,
  search: '',
  standings: [],
  distance,
})

/** How each parameter changes a view; null where its value is not one. */
const READERS: Record<string, (value: string, view: View) => Partial<View> | null> = {
  sort: (value) => {
    const column = WATCHLIST_COLUMNS.find((each) => each === value.replace(/^-/, ''))
    return column ? { sort: column, descending: value.startsWith('-') } : null
  },
  horizon: (value) => {
    const days = STORED_HORIZONS_DAYS.find((each) => String(each) === value)
    return days ? { horizonDays: days } : null
  },
  advice: (value, view) => {
    const standing = STANDINGS.find((each) => each === value)
    return standing ? { standings: [...view.standings, standing] } : null
  },
  distance: (value) => (value === 'km' || value === 'mi' ? { distance: value } : null),
  q: (value) => ({ search: value.trim().slice(0, 200) }),
}

/**
 * Reads the address. `advice` may be several, with commas.
 *
 * @param distance the organisation's own unit
 */
export function parseView(parameters: SearchParameters, distance: View['distance']): ParsedView {
  let view = defaultView(distance)
  const dropped: string[] = []
  for (const [name, given] of Object.entries(parameters)) {
    const values = [given ?? []].flat().flatMap((text) => (name === 'advice' ? text.split(',') : [text]))
    for (const value of values) {
      const change = Object.hasOwn(READERS, name) ? READERS[name]?.(value, view) : null
      if (change) view = { ...view, ...change }
      else if (value !== '') dropped.push(`${name}=${value}`)
    }
  }
  return { view, dropped }
}

/** The parameters that differ from the view which the bare address shows. */
export function parametersOf(view: View, distance: View['distance']): [name: string, value: string][] {
  const bare = defaultView(distance)
  const sorted = view.sort !== bare.sort || view.descending !== bare.descending
  const all: [string, string, boolean][] = [
    ['q', view.search, view.search !== ''],
    ['advice', view.standings.join(','), view.standings.length > 0],
    ['sort', `${view.descending ? '-' : ''}${view.sort}`, sorted],
    ['horizon', String(view.horizonDays), view.horizonDays !== bare.horizonDays],
    ['distance', view.distance, view.distance !== bare.distance],
  ]
  return all.flatMap(([name, value, differs]) => (differs ? [[name, value]] : []))
}

/** The address of a view, of the watchlist or of another page that is told in the same terms. */
export function addressOf(view: View, distance: View['distance'], page = '/'): string {
  const query = new URLSearchParams(parametersOf(view, distance)).toString().replaceAll('%2C', ',')
  return query ? `${page}?${query}` : page
}

/** The view sorted by a column: the other way round when it is already. */
export function sortedBy(view: View, column: WatchlistColumn): View {
  const descending = view.sort === column ? !view.descending : GREATEST_FIRST.includes(column)
  return { ...view, sort: column, descending }
}

/** The view with one advice alone, or all of them again. */
export function withStanding(view: View, standing: Standing): View {
  const alone = view.standings.length === 1 && view.standings[0] === standing
  return { ...view, standings: alone ? [] : [standing] }
}

/** The page of one vehicle, told in the same terms. */
export function vehicleAddress(unit: string, view: View, distance: View['distance']): string {
  const { horizonDays, distance: chosen } = view
  const told = { ...defaultView(distance), horizonDays, distance: chosen }
  return addressOf(told, distance, `/vehicles/${encodeURIComponent(unit)}`)
}

import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import {
  BARE_QUERY,
  CHANGES,
  MOST_SORT_KEYS,
  NO_FILTERS,
  type SortKey,
  VEHICLE_STATUSES,
  WATCHLIST_COLUMNS,
  WATCHLIST_MARKS,
  type WatchlistColumn,
  type WatchlistQuery,
} from '@/lib/store/read/watchlist-query'
import { STANDINGS, type Standing } from '@/lib/store/standing'
import { type Day, formatDay, parseDay } from '@/lib/units/dates'

/** A day that changes are counted from: so long before the day of the scores, or a date of its own. */
export const SINCE_DAYS = { yesterday: 1, week: 7, month: 30 } as const
export type Since = keyof typeof SINCE_DAYS | { on: Day }

export const DENSITIES = ['airy', 'dense'] as const

/** What the address says of how the watchlist is seen; it can be bookmarked, sent, and given a name. */
export type View = Omit<WatchlistQuery, 'since'> & {
  since: Since | null
  columns: WatchlistColumn[]
  density: (typeof DENSITIES)[number]
  distance: 'km' | 'mi'
}

/** What of the page is open just now, which is no part of a view. */
export const PANELS = ['filters', 'columns', 'views'] as const
export type Panel = (typeof PANELS)[number]

export type ParsedView = {
  view: View
  panel: Panel | null
  /** Where the page of rows begins, for whoever leafs through a long list; null where it is scrolled. */
  from: number | null
  /** What the address asked for that nobody knows, as it was written; it is left out, and said so. */
  dropped: string[]
}

type SearchParameters = Record<string, string | string[] | undefined>

/** The columns that stand when none are chosen. */
export const BARE_COLUMNS: WatchlistColumn[] = [
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
]

/** Columns that are more telling from the top when they are first sorted by. */
const GREATEST_FIRST: WatchlistColumn[] = [
  'chance',
  'waiting',
  'combined',
  'value',
  'asking',
  'inStock',
  'aside',
  'odometer',
  'scan',
]

const MOST_CHARACTERS = 200
const LISTS = {
  advice: 'standings',
  family: 'families',
  site: 'sites',
  customer: 'customers',
  weak_point: 'weakPoints',
  status: 'statuses',
  has: 'marks',
  changed: 'changes',
  only: 'units',
} as const

/** Lists of words of ours, which an address writes with commas; others are names, which may hold one. */
const WORDS: Partial<Record<keyof typeof LISTS, readonly string[]>> = {
  advice: STANDINGS,
  status: VEHICLE_STATUSES,
  has: WATCHLIST_MARKS,
  changed: CHANGES,
}

export const defaultView = (distance: View['distance']): View => ({
  ...BARE_QUERY,
  since: null,
  columns: BARE_COLUMNS,
  density: 'airy',
  distance,
})

type Page = Omit<ParsedView, 'dropped'>
type Reader = (value: string, page: Page) => Partial<Page> | null

const ofView = (read: (value: string, view: View) => Partial<View> | null): Reader => {
  return (value, page) => {
    const change = read(value, page.view)
    return change && { view: { ...page.view, ...change } }
  }
}
const oneOf = <Word extends string>(words: readonly Word[], value: string) =>
  words.find((each) => each === value)

function addTo(name: keyof typeof LISTS): Reader {
  const field = LISTS[name]
  return ofView((value, view) => {
    const known = WORDS[name]
    if (known && !known.includes(value)) return null
    const list = view[field] as string[]
    return { [field]: list.includes(value) ? list : [...list, value.slice(0, MOST_CHARACTERS)] }
  })
}

function readSortKey(value: string, { sort }: View): Partial<View> | null {
  const column = oneOf(WATCHLIST_COLUMNS, value.replace(/^-/, ''))
  const before = sort === BARE_QUERY.sort ? [] : sort
  if (!column || before.length === MOST_SORT_KEYS || before.some((key) => key.column === column)) return null
  return { sort: [...before, { column, descending: value.startsWith('-') }] }
}

function readColumn(value: string, { columns }: View): Partial<View> | null {
  const column = oneOf(WATCHLIST_COLUMNS, value)
  if (!column) return null
  const chosen = new Set<WatchlistColumn>(['unit', ...(columns === BARE_COLUMNS ? [] : columns), column])
  return { columns: WATCHLIST_COLUMNS.filter((each) => chosen.has(each)) }
}

function readSince(value: string): Partial<View> | null {
  const day = parseDay(value)
  if (day !== null) return { since: { on: day } }
  return Object.hasOwn(SINCE_DAYS, value) ? { since: value as keyof typeof SINCE_DAYS } : null
}

/** How each parameter changes what is seen; null where its value is not one. */
const READERS: Record<string, Reader> = {
  ...Object.fromEntries(Object.keys(LISTS).map((name) => [name, addTo(name as keyof typeof LISTS)])),
  per: ofView((value) => (value === 'vehicle' || value === 'weak-point' ? { per: value } : null)),
  sort: ofView(readSortKey),
  columns: ofView(readColumn),
  since: ofView(readSince),
  horizon: ofView((value) => {
    const days = STORED_HORIZONS_DAYS.find((each) => String(each) === value)
    return days ? { horizonDays: days } : null
  }),
  density: ofView((value) => {
    const density = oneOf(DENSITIES, value)
    return density ? { density } : null
  }),
  distance: ofView((value) => (value === 'km' || value === 'mi' ? { distance: value } : null)),
  q: ofView((value) => ({ search: value.trim().slice(0, MOST_CHARACTERS) })),
  panel: (value) => {
    const panel = oneOf(PANELS, value)
    return panel ? { panel } : null
  },
  from: (value) => (/^\d{1,7}$/.test(value) ? { from: Number(value) } : null),
}

/** Parameters whose values may stand together, with commas between them. */
const WITH_COMMAS = ['sort', 'columns', ...Object.keys(WORDS)]

/**
 * Reads the address.
 *
 * @param distance the organisation's own unit
 */
export function parseView(parameters: SearchParameters, distance: View['distance']): ParsedView {
  let page: Page = { view: defaultView(distance), panel: null, from: null }
  const dropped: string[] = []
  for (const [name, given] of Object.entries(parameters)) {
    const values = [given ?? []]
      .flat()
      .flatMap((text) => (WITH_COMMAS.includes(name) ? text.split(',') : [text]))
    for (const value of values) {
      if (value === '') continue
      const change = Object.hasOwn(READERS, name) ? READERS[name]?.(value, page) : null
      if (change) page = { ...page, ...change }
      else dropped.push(`${name}=${value}`)
    }
  }
  return { ...page, dropped }
}

const sinceText = (since: Since | null) =>
  since === null ? '' : typeof since === 'string' ? since : formatDay(since.on)
const sortText = (sort: SortKey[]) =>
  sort.map(({ column, descending }) => `${descending ? '-' : ''}${column}`).join(',')

/** The parameters that differ from the view which the bare address shows. */
export function parametersOf(view: View, distance: View['distance']): [name: string, value: string][] {
  const bare = defaultView(distance)
  const lists = Object.entries(LISTS).flatMap(([name, field]): [string, string][] => {
    const values: string[] = view[field]
    if (values.length === 0) return []
    return Object.hasOwn(WORDS, name) ? [[name, values.join(',')]] : values.map((value) => [name, value])
  })
  const single = (of: View): Record<string, string> => ({
    q: of.search,
    per: of.per,
    sort: sortText(of.sort),
    since: sinceText(of.since),
    columns: of.columns.join(','),
    horizon: String(of.horizonDays),
    density: of.density,
    distance: of.distance,
  })
  const standing = single(bare)
  return [...Object.entries(single(view)).filter(([name, value]) => value !== standing[name]), ...lists]
}

/** The address of a view, of the watchlist or of another page that is told in the same terms. */
export function addressOf(
  view: View,
  distance: View['distance'],
  page = '/',
  open: Partial<Pick<ParsedView, 'panel' | 'from'>> = {},
): string {
  const more = Object.entries(open).flatMap(([name, value]) =>
    (value ?? null) === null ? [] : [[name, String(value)]],
  )
  const query = new URLSearchParams([...parametersOf(view, distance), ...more])
    .toString()
    .replaceAll('%2C', ',')
  return query ? `${page}?${query}` : page
}

/** The day that changes are counted from, for scores of a day. */
export function sinceDay(since: Since | null, asOf: Day): Day | null {
  if (since === null) return null
  return typeof since === 'string' ? asOf - SINCE_DAYS[since] : since.on
}

/** What the store is asked for. */
export const queryOf = (view: View, asOf: Day): WatchlistQuery => ({
  ...view,
  since: sinceDay(view.since, asOf),
})

/** The view sorted by a column, the other way round when it is already; what it was sorted by second stays second. */
export function sortedBy(view: View, column: WatchlistColumn): View {
  const [first, ...others] = view.sort
  if (first?.column !== column)
    return { ...view, sort: [{ column, descending: GREATEST_FIRST.includes(column) }] }
  return { ...view, sort: [{ column, descending: !first.descending }, ...others].slice(0, MOST_SORT_KEYS) }
}

/** The view with a second column to sort by, where rows are equal in the first. */
export function thenBy(view: View, column: WatchlistColumn): View {
  const [first, second] = view.sort
  if (!first || first.column === column) return sortedBy(view, column)
  const descending = second?.column === column ? !second.descending : GREATEST_FIRST.includes(column)
  return { ...view, sort: [first, { column, descending }] }
}

/** Every vehicle again, shown as before. */
export const unfiltered = (view: View): View => ({ ...view, ...NO_FILTERS })

export function isNarrowed(view: View): boolean {
  return Object.keys(NO_FILTERS).some((field) => view[field as keyof typeof NO_FILTERS].length > 0)
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

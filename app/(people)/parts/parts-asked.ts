import { PART_WEEKS, type PartNow } from '@/lib/jobs/parts-now'

/** The columns that sort. */
const SORTS = ['part', 'mean', 'enough', 'hand', 'coming', 'order', 'by', 'cost'] as const
export type PartSort = (typeof SORTS)[number]

/** What the address asks of the page. */
export type PartsAsked = {
  weeks: (typeof PART_WEEKS)[number]
  sort: { by: PartSort; descending: boolean }
  /** The part that is opened. */
  open: string | null
}

const BARE: PartsAsked = { weeks: 8, sort: { by: 'by', descending: false }, open: null }
/** What is more telling from the top when it is first sorted by. */
const GREATEST_FIRST: readonly PartSort[] = ['mean', 'enough', 'coming', 'order', 'cost']
const LONGEST_NAME = 200

export function partsAsked(parameters: Record<string, string | string[] | undefined>): PartsAsked {
  const one = (name: string) => [parameters[name] ?? []].flat()[0]?.trim() ?? ''
  const sort = one('sort')
  const by = SORTS.find((each) => each === sort.replace(/^-/, ''))
  return {
    weeks: PART_WEEKS.find((each) => String(each) === one('weeks')) ?? BARE.weeks,
    sort: by ? { by, descending: sort.startsWith('-') } : BARE.sort,
    open: one('open').slice(0, LONGEST_NAME) || null,
  }
}

export function partsAddress({ weeks, sort, open }: PartsAsked, page = '/parts'): string {
  const query = new URLSearchParams()
  if (weeks !== BARE.weeks) query.set('weeks', String(weeks))
  if (sort.by !== BARE.sort.by || sort.descending)
    query.set('sort', `${sort.descending ? '-' : ''}${sort.by}`)
  if (open !== null) query.set('open', open)
  const text = query.toString()
  return text ? `${page}?${text}` : page
}

/** The other way round where it is sorted by that column already. */
export const sortedBy = ({ sort }: PartsAsked, by: PartSort): PartsAsked['sort'] => ({
  by,
  descending: sort.by === by ? !sort.descending : GREATEST_FIRST.includes(by),
})

const LAST = Number.POSITIVE_INFINITY

/** What is to be ordered soonest stands first where nothing else is asked: then what is short, then what costs most. */
const KEYS: Record<Exclude<PartSort, 'part'>, (part: PartNow) => number> = {
  mean: ({ mean }) => mean,
  enough: ({ enough }) => enough,
  hand: ({ stock }) => stock?.onHand ?? -1,
  coming: ({ stock }) => stock?.onOrder ?? 0,
  order: ({ toOrder }) => toOrder,
  by: ({ toOrder, orderBy, shortFrom }) =>
    toOrder > 0 ? (orderBy ?? shortFrom ?? LAST) : (shortFrom ?? LAST),
  cost: ({ toOrder, price }) => toOrder * (price ?? 0),
}

export function inOrder(parts: readonly PartNow[], { by, descending }: PartsAsked['sort']): PartNow[] {
  const way = descending ? -1 : 1
  const byName = (a: PartNow, b: PartNow) => a.part.localeCompare(b.part, 'en', { numeric: true })
  if (by === 'part') return [...parts].sort((a, b) => way * byName(a, b))
  const key = KEYS[by]
  const compare = (a: number, b: number) => (a === b ? 0 : a < b ? -1 : 1)
  return [...parts].sort((a, b) => way * compare(key(a), key(b)) || b.mean - a.mean || byName(a, b))
}

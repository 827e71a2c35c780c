import type { FollowedTime } from '../followed-time'

/** Where events can lie, as far as the times tell, by rising age: each cell is a moment, or between two looks. */
export interface EventCells {
  /** The last age of each cell. */
  ends: Float64Array
  /** How many events are known to lie in it. */
  exact: Float64Array
  /** Events that lie in one of the cells `from` to `to`. */
  between: { from: number; to: number }[]
  /** How many were last followed in it, or after it and before the next, without an event. */
  leavers: Float64Array
  /** How many are at risk in it and were not in the one before: their following begins between the two. */
  entrants: Float64Array
}

/** Just before an age, at it, just after it: an event at an age happens after a look just before it. */
const BEFORE = 0
const AT = 1
const AFTER = 2

type Place = { age: number; order: typeof BEFORE | typeof AT | typeof AFTER }
/** A mark on the line of ages: where some event may begin to lie (`opens`), has happened, or following begins. */
type Mark = Place & { opens: boolean }

/** From just after one mark up to and with the next. */
type Cell = { open: Mark; close: Mark }

/**
 * The innermost intervals of Turnbull (1976): from where an event may begin to lie to the next age by which one has
 * happened, with the ages at which following begins among the latter (Frydman 1994), so that whoever is followed is
 * at risk in the whole of a cell or in none of it. Those in which no event can lie are left out.
 */
export function eventCells(times: readonly FollowedTime[]): EventCells {
  const happened = times.filter(({ by }) => by < Number.POSITIVE_INFINITY)
  const innermost = innermostIntervals(times)
  const possible = coverage(
    innermost.length,
    happened.map((time) => spanOf(time, innermost)),
  )
  const cells = innermost.filter((_, j) => possible[j]! > 0)
  const spans = happened.map((time) => spanOf(time, cells))
  const exact = new Float64Array(cells.length)
  for (const { from, to } of spans) if (from === to) exact[from]!++
  return {
    ends: Float64Array.from(cells, ({ close }) => close.age),
    exact,
    between: spans.filter(({ from, to }) => from < to),
    ...followed(times, cells),
  }
}

/** The cells in which the event of a time may lie. */
function spanOf({ entry, after, by }: FollowedTime, cells: readonly Cell[]): { from: number; to: number } {
  const opening = openingOf({ after: Math.max(after, entry), by })
  return { from: firstFrom(cells, opening), to: lastUpTo(cells, by) }
}

/** Who comes under observation where, and who leaves without an event. */
function followed(
  times: readonly FollowedTime[],
  cells: readonly Cell[],
): Pick<EventCells, 'leavers' | 'entrants'> {
  const leavers = new Float64Array(cells.length)
  const entrants = new Float64Array(cells.length)
  for (const { entry, after, by } of times) {
    const ended = by === Number.POSITIVE_INFINITY
    const first = firstFrom(cells, { age: entry, order: AFTER })
    const last = lastUpTo(cells, ended ? after : by)
    if (last < first) continue
    entrants[first]!++
    if (ended) leavers[last]!++
  }
  return { leavers, entrants }
}

/** How many spans cover each of so many cells. */
function coverage(count: number, spans: readonly { from: number; to: number }[]): Int32Array {
  const change = new Int32Array(count + 1)
  for (const { from, to } of spans) {
    change[from]!++
    change[to + 1]!--
  }
  let running = 0
  return change.map((each) => {
    running += each
    return running
  })
}

/** The moment from which an event may lie: one at a known age begins just before it. */
const openingOf = ({ after, by }: Pick<FollowedTime, 'after' | 'by'>): Place => ({
  age: after,
  order: after === by ? BEFORE : AFTER,
})

function innermostIntervals(times: readonly FollowedTime[]): Cell[] {
  const marks = times.flatMap(({ entry, after, by }): Mark[] => [
    { ...openingOf({ after: Math.max(after, entry), by }), opens: true },
    { age: entry, order: AT, opens: false },
    ...(by === Number.POSITIVE_INFINITY ? [] : [{ age: by, order: AT, opens: false } as const]),
  ])
  marks.sort(byPlace)
  return marks.flatMap((close, i) => {
    const open = marks[i - 1]
    return open?.opens && !close.opens ? [{ open, close }] : []
  })
}

const byPlace = (a: Place, b: Place) => a.age - b.age || a.order - b.order

/** The first of the cells, which rise, that begins at a place or after it. */
const firstFrom = (cells: readonly Cell[], place: Place) =>
  countWhile(cells, ({ open }) => byPlace(open, place) < 0)

/** The last that has ended by an age. */
const lastUpTo = (cells: readonly Cell[], age: number) =>
  countWhile(cells, ({ close }) => close.age <= age) - 1

/** How many of the first cells a test holds for; it holds for none after the first for which it does not. */
function countWhile(cells: readonly Cell[], holds: (cell: Cell) => boolean): number {
  let [low, high] = [0, cells.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (holds(cells[middle]!)) low = middle + 1
    else high = middle
  }
  return low
}

/**
 * How often one part will fail within a period, and how often it will be renewed because its interval has run out: after
 * either it goes on as a new one.
 *
 * The renewal equation for the number of events instead of its mean: by the event in which the present part ends, whose
 * cell's middle the next part begins at (the Riemann–Stieltjes midpoint method, as in the renewal function). Time is
 * counted in half cells, of which a period has an even number.
 */

/** P(so many failures, so many due renewals): `chance[failures · (mostDue + 1) + due]`; what is beyond the most counts there. */
export interface EventCounts {
  mostFailures: number
  mostDue: number
  chance: Float64Array
}

/** The parts to come: every one alike. */
export interface PartsToCome {
  /** P(not failed) of a new part after 0, 1, 2, … half cells, up to the whole period. */
  survives: Float64Array
  /** Half cells after which it is renewed in any case, at least 1; Infinity: never. */
  dueEvery: number
  mostFailures: number
  mostDue: number
}

/** The part that is there: good for so long, or already failed. */
export type PresentPart =
  | {
      failed: false
      /** P(not failed) at even moments from now to the end of the period. */
      survives: Float64Array
      /** Half cells after which its interval has run out, 0 where it has; Infinity: never. */
      dueAfter: number
    }
  | { failed: true }

const emptyCounts = ({
  mostFailures,
  mostDue,
}: Pick<EventCounts, 'mostFailures' | 'mostDue'>): EventCounts => ({
  mostFailures,
  mostDue,
  chance: new Float64Array((mostFailures + 1) * (mostDue + 1)),
})

/** Adds `mass` times what comes after one more event. */
function addAfter(into: EventCounts, mass: number, after: EventCounts, failures: 0 | 1, due: 0 | 1): void {
  const { mostFailures, mostDue, chance } = into
  const from = after.chance
  const row = mostDue + 1
  for (let f = 0; f <= after.mostFailures; f++) {
    const to = Math.min(f + failures, mostFailures) * row
    for (let d = 0; d <= mostDue; d++) {
      const at = to + Math.min(d + due, mostDue)
      chance[at] = chance[at]! + mass * from[f * row + d]!
    }
  }
}

/** The counts of new parts over any length up to a whole period: known at each half cell, even between. */
export interface CountsFromNew {
  /** By half cells still to go. */
  counts: EventCounts[]
  /** The same after one failure more, of which there is room for one more, one after the other. */
  afterFailure: Float64Array
  dueEvery: number
}

/** With what comes after one failure more. */
export function withAfterFailure(counts: EventCounts[], dueEvery: number): CountsFromNew {
  const row = counts[0]!.mostDue + 1
  const size = counts[0]!.chance.length + row
  const afterFailure = new Float64Array(counts.length * size)
  counts.forEach(({ chance }, left) => {
    afterFailure.set(chance, left * size + row)
  })
  return { counts, afterFailure, dueEvery }
}

/** More failures than likely ones within the whole period count as the most that are left. */
export function withoutRareFailures({ counts, dueEvery }: CountsFromNew, negligible: number): CountsFromNew {
  const { mostFailures } = withoutRare(counts.at(-1)!, negligible)
  return withAfterFailure(
    counts.map((each) => upTo(each, mostFailures)),
    dueEvery,
  )
}

/** Where so many half cells still to go lie among those that are known. */
function placeOf(left: number, reach: number, dueEvery: number): { low: number; share: number } {
  const low = Math.min(Math.floor(left + ON_GRID), reach)
  const share = Math.max(left - low, 0)
  // Where an interval runs out the counts leap: until then nothing of it shows.
  const isOn = share < ON_GRID || low + 1 > reach || (low + 1) % dueEvery === 0
  return { low, share: isOn ? 0 : share }
}

/** Adds `mass` times what comes after one more event with `left` half cells still to go. */
function addBetween(
  into: EventCounts,
  mass: number,
  { counts, dueEvery }: CountsFromNew,
  left: number,
  failures: 0 | 1,
  due: 0 | 1,
): void {
  if (mass === 0) return
  const { low, share } = placeOf(left, counts.length - 1, dueEvery)
  addAfter(into, mass * (1 - share), counts[low]!, failures, due)
  if (share > 0) addAfter(into, mass * share, counts[low + 1]!, failures, due)
}

const ON_GRID = 1e-9

/** The counts of a new part with 0, 1, 2, … half cells still to go. */
export function countsFromNew(parts: PartsToCome): CountsFromNew {
  const { survives, dueEvery } = parts
  const counts: EventCounts[] = []
  for (let left = 0; left < survives.length; left++) {
    const here = emptyCounts(parts)
    counts.push(here)
    const until = Math.min(left, dueEvery)
    if (dueEvery <= left) addAfter(here, survives[dueEvery]!, counts[left - dueEvery]!, 0, 1)
    else here.chance[0] = survives[left]!
    for (let from = 0; from < until; from += 2) {
      const mass = survives[from]! - survives[Math.min(from + 2, until)]!
      addAfter(here, mass, counts[Math.max(left - from - 1, 0)]!, 1, 0)
    }
  }
  return withAfterFailure(counts, dueEvery)
}

/**
 * The counts over a period.
 *
 * @param fromNew of the parts to come, as `countsFromNew` gave them; there is room for one failure more than theirs
 * @param period half cells, no more than `fromNew` reaches; all of it where it is left out
 */
export function countsAhead(
  present: PresentPart,
  fromNew: CountsFromNew,
  period = fromNew.counts.length - 1,
): EventCounts {
  if (present.failed) {
    const counts = roomAfter(fromNew)
    addBetween(counts, 1, fromNew, period, 1, 0)
    return counts
  }
  const { survives, dueAfter } = present
  return stretchAhead(fromNew, { cells: survives.length - 1, dueAfter, period })(survives, fromNew)
}

function roomAfter({ counts }: CountsFromNew): EventCounts {
  const { mostFailures, mostDue } = counts[0]!
  return emptyCounts({ mostFailures: mostFailures + 1, mostDue })
}

/** The present part at one node of its life, and the parts to come at the same. */
export type StretchAhead = (survives: Float64Array, fromNew: CountsFromNew) => EventCounts

/**
 * The counts over a period of a part that is good, for many nodes: where its cells lie among the counts of the parts to
 * come is alike for all of them.
 *
 * @param like the parts to come at any node: all reach as far
 */
export function stretchAhead(
  like: CountsFromNew,
  { cells, dueAfter, period }: { cells: number; dueAfter: number; period: number },
): StretchAhead {
  const [reach, width, until] = [like.counts.length - 1, period / cells, Math.min(dueAfter, period)]
  const used = Math.min(Math.ceil(until / width), cells)
  const isCut = used * width > until
  const places = Array.from({ length: used }, (_, cell) => {
    const to = isCut && cell === used - 1 ? until : (cell + 1) * width
    return placeOf(period - (cell * width + to) / 2, reach, like.dueEvery)
  })
  return (survives, fromNew) => {
    const counts = roomAfter(fromNew)
    const size = counts.chance.length
    if (dueAfter <= period)
      addBetween(counts, readAt(survives, dueAfter / width), fromNew, period - dueAfter, 0, 1)
    else counts.chance[0] = survives[cells]!
    for (let cell = 0; cell < used; cell++) {
      const after = isCut && cell === used - 1 ? readAt(survives, until / width) : survives[cell + 1]!
      const { low, share } = places[cell]!
      const mass = survives[cell]! - after
      addRow(counts.chance, mass * (1 - share), fromNew.afterFailure, low * size)
      if (share > 0) addRow(counts.chance, mass * share, fromNew.afterFailure, (low + 1) * size)
    }
    return counts
  }
}

function addRow(into: Float64Array, factor: number, rows: Float64Array, from: number): void {
  for (let i = 0; i < into.length; i++) into[i] = into[i]! + factor * rows[from + i]!
}

/** A curve at a place between its points, by a straight line. */
function readAt(curve: Float64Array, at: number): number {
  const low = Math.min(Math.floor(at + ON_GRID), curve.length - 1)
  const share = Math.max(at - low, 0)
  return share < ON_GRID || low + 1 >= curve.length
    ? curve[low]!
    : curve[low]! + share * (curve[low + 1]! - curve[low]!)
}

/** The counts of two parts together that are independent of each other; it may hold twice as many events. */
export function countsTogether(a: EventCounts, b: EventCounts): EventCounts {
  const sum = emptyCounts({ mostFailures: a.mostFailures + b.mostFailures, mostDue: a.mostDue + b.mostDue })
  const [rowA, rowB, row] = [a.mostDue + 1, b.mostDue + 1, sum.mostDue + 1]
  for (let f = 0, i = 0; f <= a.mostFailures; f++) {
    for (let d = 0; d < rowA; d++, i++) {
      const p = a.chance[i]!
      if (p > 0) addRows(sum.chance, f * row + d, row, p, b.chance, rowB)
    }
  }
  return sum
}

/** Adds `factor` times a table with shorter rows, its first cell at `at`. */
function addRows(
  into: Float64Array,
  at: number,
  row: number,
  factor: number,
  rows: Float64Array,
  rowOfRows: number,
): void {
  for (let from = 0, to = at; from < rows.length; from += rowOfRows, to += row) {
    for (let d = 0; d < rowOfRows; d++) into[to + d] = into[to + d]! + factor * rows[from + d]!
  }
}

/** More events than likely ones count as the most that are left: no more than `negligible` is moved. */
export function withoutRare(counts: EventCounts, negligible: number): EventCounts {
  const row = counts.mostDue + 1
  const { chance } = counts
  let most = counts.mostFailures
  let tail = 0
  for (; most > 0; most--) {
    let here = 0
    for (let d = 0; d < row; d++) here += chance[most * row + d]!
    if (tail + here >= negligible) break
    tail += here
  }
  return upTo(counts, most)
}

function upTo(counts: EventCounts, most: number): EventCounts {
  if (most >= counts.mostFailures) return counts
  const { chance, mostDue } = counts
  const row = mostDue + 1
  const kept = chance.slice(0, (most + 1) * row)
  for (let from = kept.length; from < chance.length; from += row) {
    for (let d = 0; d < row; d++) kept[most * row + d] = kept[most * row + d]! + chance[from + d]!
  }
  return { mostFailures: most, mostDue, chance: kept }
}

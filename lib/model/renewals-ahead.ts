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
  for (let f = 0; f <= mostFailures; f++) {
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
  dueEvery: number
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
  const low = Math.min(Math.floor(left + ON_GRID), counts.length - 1)
  const share = Math.max(left - low, 0)
  // Where an interval runs out the counts leap: until then nothing of it shows.
  if (share < ON_GRID || low + 1 >= counts.length || (low + 1) % dueEvery === 0)
    addAfter(into, mass, counts[low]!, failures, due)
  else {
    addAfter(into, mass * (1 - share), counts[low]!, failures, due)
    addAfter(into, mass * share, counts[low + 1]!, failures, due)
  }
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
  return { counts, dueEvery }
}

/**
 * The counts over a period.
 *
 * @param fromNew of the parts to come, as `countsFromNew` gave them
 * @param period half cells, no more than `fromNew` reaches; all of it where it is left out
 */
export function countsAhead(
  present: PresentPart,
  fromNew: CountsFromNew,
  period = fromNew.counts.length - 1,
): EventCounts {
  const counts = emptyCounts(fromNew.counts[0]!)
  if (present.failed) {
    addBetween(counts, 1, fromNew, period, 1, 0)
    return counts
  }
  const { survives, dueAfter } = present
  const cells = survives.length - 1
  const width = period / cells
  const until = Math.min(dueAfter, period)
  if (dueAfter <= period) {
    addBetween(counts, readAt(survives, dueAfter / width), fromNew, period - dueAfter, 0, 1)
  } else counts.chance[0] = survives[cells]!
  for (let cell = 0; cell < cells && cell * width < until; cell++) {
    const isCut = (cell + 1) * width > until
    const [from, to] = [cell * width, isCut ? until : (cell + 1) * width]
    const mass = survives[cell]! - (isCut ? readAt(survives, until / width) : survives[cell + 1]!)
    addBetween(counts, mass, fromNew, period - (from + to) / 2, 1, 0)
  }
  return counts
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
  for (let i = 0; i < a.chance.length; i++) {
    const p = a.chance[i]!
    if (p === 0) continue
    const at = Math.floor(i / rowA) * row + (i % rowA)
    for (let j = 0; j < b.chance.length; j++) {
      const to = at + Math.floor(j / rowB) * row + (j % rowB)
      sum.chance[to] = sum.chance[to]! + p * b.chance[j]!
    }
  }
  return sum
}

/** More events than likely ones count as the most that are left: no more than `negligible` is moved. */
export function withoutRare(counts: EventCounts, negligible: number): EventCounts {
  const row = counts.mostDue + 1
  const { chance } = counts
  let [most, tail] = [counts.mostFailures, 0]
  for (; most > 0; most--) {
    let here = 0
    for (let d = 0; d < row; d++) here += chance[most * row + d]!
    if (tail + here >= negligible) break
    tail += here
  }
  if (most === counts.mostFailures) return counts
  const kept = chance.slice(0, (most + 1) * row)
  for (let i = kept.length; i < chance.length; i++) {
    const at = most * row + (i % row)
    kept[at] = kept[at]! + chance[i]!
  }
  return { mostFailures: most, mostDue: counts.mostDue, chance: kept }
}

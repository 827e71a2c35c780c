/**
 * How often new parts, one after the other, will fail within a period, and how often they will be renewed because an
 * interval has run out.
 *
 * The renewal equation for the number of events instead of its mean: by the event in which a part ends, whose cell's
 * middle the next part begins at (the Riemann–Stieltjes midpoint method, as in the renewal function). Time is counted in
 * half cells, of which a period has an even number.
 */

/** The parts to come: every one alike. */
export interface PartsToCome {
  /** P(not failed) of a new part after 0, 1, 2, … half cells, up to the whole period. */
  survives: Float64Array
  /** Half cells after which it is renewed in any case, at least 1; Infinity: never. */
  dueEvery: number
  mostFailures: number
  mostDue: number
}

/**
 * The counts of new parts over any length up to a whole period, by half cells still to go: `size` numbers each, of which
 * the first row (`mostDue` + 1 numbers) is nothing and the others are those of `EventCounts`. Read from its beginning, it
 * is what comes after one failure more.
 */
export interface CountsFromNew {
  /** Half cells of the whole period. */
  reach: number
  dueEvery: number
  mostFailures: number
  mostDue: number
  row: number
  size: number
  after: Float64Array
}

function emptyFromNew(
  shape: Pick<CountsFromNew, 'reach' | 'dueEvery' | 'mostFailures' | 'mostDue'>,
): CountsFromNew {
  const row = shape.mostDue + 1
  const size = (shape.mostFailures + 2) * row
  return { ...shape, row, size, after: new Float64Array((shape.reach + 1) * size) }
}

/** The counts of a new part with 0, 1, 2, … half cells still to go. */
export function countsFromNew({ survives, ...parts }: PartsToCome): CountsFromNew {
  const counts = emptyFromNew({ ...parts, reach: survives.length - 1 })
  const { reach, dueEvery, row, size, after } = counts
  for (let left = 0; left <= reach; left++) {
    const until = Math.min(left, dueEvery)
    if (dueEvery <= left) addEvent(counts, left, survives[dueEvery]!, left - dueEvery, 'due')
    else after[left * size + row] = survives[left]!
    for (let from = 0; from < until; from += 2) {
      const mass = survives[from]! - survives[Math.min(from + 2, until)]!
      addEvent(counts, left, mass, Math.max(left - from - 1, 0), 'failure')
    }
  }
  return counts
}

/** Adds, to the counts with `left` half cells to go, `mass` times an event and the counts with `then` to go. */
function addEvent(
  { after, mostFailures, mostDue, row, size }: CountsFromNew,
  left: number,
  mass: number,
  then: number,
  event: 'failure' | 'due',
): void {
  const [into, from] = [left * size + row, then * size + row]
  const [failures, due] = event === 'failure' ? [1, 0] : [0, 1]
  for (let f = 0; f <= mostFailures; f++) {
    const to = into + Math.min(f + failures, mostFailures) * row
    for (let d = 0; d < row; d++) {
      const at = to + Math.min(d + due, mostDue)
      after[at] = after[at]! + mass * after[from + f * row + d]!
    }
  }
}

/** More failures than likely ones within the whole period count as the most that are left. */
export function withoutRareFailures(all: CountsFromNew, negligible: number): CountsFromNew {
  const { reach, row, size, after } = all
  let most = all.mostFailures
  for (let tail = 0; most > 0; most--) {
    const from = reach * size + (most + 1) * row
    for (let d = 0; d < row; d++) tail += after[from + d]!
    if (tail >= negligible) break
  }
  const kept = emptyFromNew({ ...all, mostFailures: most })
  addRows(kept, all, 1)
  return kept
}

/** One of several, each with its weight; these sum to 1. All are of one period and tell as many due renewals apart. */
export function mixFromNew(counts: readonly CountsFromNew[], weight: ArrayLike<number>): CountsFromNew {
  const mixed = emptyFromNew({
    ...counts[0]!,
    mostFailures: Math.max(...counts.map(({ mostFailures }) => mostFailures)),
  })
  counts.forEach((each, k) => {
    addRows(mixed, each, weight[k]!)
  })
  return mixed
}

/** Adds `factor` times other counts; what is more than the most counts there. */
function addRows(into: CountsFromNew, other: CountsFromNew, factor: number): void {
  const { reach, row, size, after, mostFailures } = into
  for (let left = 0; left <= reach; left++) {
    for (let f = 0; f <= other.mostFailures; f++) {
      const to = left * size + (Math.min(f, mostFailures) + 1) * row
      const from = left * other.size + (f + 1) * row
      for (let d = 0; d < row; d++) after[to + d] = after[to + d]! + factor * other.after[from + d]!
    }
  }
}

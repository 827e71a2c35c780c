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
      /** P(not failed) after 0, 1, 2, … whole cells, up to the whole period. */
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
  const { mostFailures, mostDue } = into
  for (let f = 0; f <= mostFailures; f++) {
    for (let d = 0; d <= mostDue; d++) {
      const at = Math.min(f + failures, mostFailures) * (mostDue + 1) + Math.min(d + due, mostDue)
      into.chance[at] = into.chance[at]! + mass * after.chance[f * (mostDue + 1) + d]!
    }
  }
}

/** The counts of a new part with 0, 1, 2, … half cells still to go. */
export function countsFromNew(parts: PartsToCome): EventCounts[] {
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
  return counts
}

/**
 * The counts over the whole period.
 *
 * @param fromNew of the parts to come, as `countsFromNew` gave them
 */
export function countsAhead(present: PresentPart, fromNew: readonly EventCounts[]): EventCounts {
  const whole = fromNew.length - 1
  const counts = emptyCounts(fromNew[0]!)
  if (present.failed) {
    addAfter(counts, 1, fromNew[whole]!, 1, 0)
    return counts
  }
  const { survives, dueAfter } = present
  const until = Math.min(whole, dueAfter)
  const alive = (halfCells: number) => {
    const cell = halfCells >> 1
    return halfCells % 2 === 0 ? survives[cell]! : (survives[cell]! + survives[cell + 1]!) / 2
  }
  if (dueAfter <= whole) addAfter(counts, alive(dueAfter), fromNew[whole - dueAfter]!, 0, 1)
  else counts.chance[0] = survives[whole / 2]!
  for (let from = 0; from < until; from += 2) {
    const mass = alive(from) - alive(Math.min(from + 2, until))
    addAfter(counts, mass, fromNew[whole - from - 1]!, 1, 0)
  }
  return counts
}

/** The counts of two parts together that are independent of each other; it may hold twice as many events. */
export function countsTogether(a: EventCounts, b: EventCounts): EventCounts {
  const sum = emptyCounts({ mostFailures: a.mostFailures + b.mostFailures, mostDue: a.mostDue + b.mostDue })
  const [rowA, rowB, row] = [a.mostDue + 1, b.mostDue + 1, sum.mostDue + 1]
  a.chance.forEach((p, i) => {
    if (p === 0) return
    const at = Math.floor(i / rowA) * row + (i % rowA)
    b.chance.forEach((q, j) => {
      const to = at + Math.floor(j / rowB) * row + (j % rowB)
      sum.chance[to] = sum.chance[to]! + p * q
    })
  })
  return sum
}

/** Positions of one weak point whose histories differ, on the same lives. */
import type { EventCounts } from '@/lib/model/renewals-ahead'

/** Weights that differ by no more than this are alike. */
const ALIKE = 1e-12

/**
 * What one position comes to at each node of a common weight. Its own history weighs its nodes otherwise than another's;
 * its shortest lives go with the common shortest, its longest with the longest, share for share (the comonotone coupling).
 * So short lives come together, and each position on the whole comes to exactly what it comes to by itself.
 *
 * @param counts by node; null where `own` weighs nothing
 * @param own what the nodes weigh for this position; sums to 1
 * @param common what they weigh for all; sums to 1
 * @param order the nodes from the shortest to the longest life
 */
export function onCommonLives(
  counts: readonly (EventCounts | null)[],
  { own, common, order }: { own: Float64Array; common: Float64Array; order: readonly number[] },
): (EventCounts | null)[] {
  if (areAlike(own, common)) return [...counts]
  const ranked = order.filter((k) => counts[k] && own[k]! > 0)
  const told: (EventCounts | null)[] = Array.from(counts, () => null)
  let [at, left] = [0, own[ranked[0]!]!]
  for (const k of order) {
    if (!(common[k]! > 0)) continue
    const shares: Share[] = []
    for (let wanted = common[k]!; wanted > 0; ) {
      const last = at === ranked.length - 1 // rounding leaves it a little too little
      const taken = last ? wanted : Math.min(wanted, left)
      shares.push({ counts: counts[ranked[at]!]!, weight: taken })
      wanted -= taken
      left -= taken
      if (!last && !(left > 0)) left = own[ranked[++at]!]!
    }
    told[k] = mixShares(shares)
  }
  return told
}

function areAlike(own: Float64Array, common: Float64Array): boolean {
  for (let k = 0; k < own.length; k++) if (Math.abs(own[k]! - common[k]!) > ALIKE) return false
  return true
}

interface Share {
  counts: EventCounts
  weight: number
}

/** One of several counts, each with its weight; together they weigh anything. */
export function mixShares(shares: readonly Share[]): EventCounts {
  if (shares.length === 1) return shares[0]!.counts
  let [mostFailures, mostDue, total] = [0, 0, 0]
  for (const { counts, weight } of shares) {
    mostFailures = Math.max(mostFailures, counts.mostFailures)
    mostDue = Math.max(mostDue, counts.mostDue)
    total += weight
  }
  const chance = new Float64Array((mostFailures + 1) * (mostDue + 1))
  for (const { counts, weight } of shares) {
    const { chance: own, mostDue: ownDue } = counts
    const share = weight / total
    for (let from = 0, to = 0; from < own.length; from += ownDue + 1, to += mostDue + 1) {
      for (let d = 0; d <= ownDue; d++) chance[to + d] = chance[to + d]! + share * own[from + d]!
    }
  }
  return { mostFailures, mostDue, chance }
}

/** Whether what was said to be likelier to fail failed sooner, among parts some of which were lost from sight. */

export interface Concordance {
  /** Share of comparable pairs in the right order, ties of risk counting half; null without such a pair. */
  concordance: number | null
  concordant: number
  discordant: number
  tiedRisk: number
  /** Pairs that failed at the same time, which are left out: with unlike and with like risks. */
  tiedTime: number
  tiedBoth: number
}

export interface Watched {
  /** When each failed or was last seen. */
  time: ArrayLike<number>
  /** The chance that it failed then: 1 failed, 0 lost from sight or still running. */
  failed: ArrayLike<number>
  risk: ArrayLike<number>
}

/**
 * Concordance under censoring (Harrell et al. 1982): a pair is comparable where the earlier of the two failed; one
 * last seen when the other failed counts as later. O(n log n): times from the latest to the earliest, with a tree of
 * how many of each risk lie later.
 */
export function concordance({ time, failed, risk }: Watched): Concordance {
  const rank = ranksOf(risk)
  const later = new CountsByRank(rank.distinct)
  const counts = { concordant: 0, discordant: 0, tiedRisk: 0, tiedTime: 0, tiedBoth: 0 }
  for (const group of groupsOf(time)) {
    for (const i of group) later.add(rank.of[i]!, 1 - failed[i]!)
    for (const i of group) {
      const weight = failed[i]!
      if (weight === 0) continue
      const own = 1 - weight
      const below = later.below(rank.of[i]!)
      const alike = later.at(rank.of[i]!)
      counts.concordant += weight * below
      counts.discordant += weight * (later.total - below - alike)
      counts.tiedRisk += weight * (alike - own)
    }
    const ties = tiesOf(group, failed, rank.of)
    counts.tiedTime += ties.unlike
    counts.tiedBoth += ties.alike
    for (const i of group) later.add(rank.of[i]!, failed[i]!)
  }
  const pairs = counts.concordant + counts.discordant + counts.tiedRisk
  return { concordance: pairs > 0 ? (counts.concordant + counts.tiedRisk / 2) / pairs : null, ...counts }
}

/** Cases by time, the latest first. */
function groupsOf(time: ArrayLike<number>): number[][] {
  const groups = new Map<number, number[]>()
  for (let i = 0; i < time.length; i++) {
    const group = groups.get(time[i]!)
    if (group) group.push(i)
    else groups.set(time[i]!, [i])
  }
  return [...groups].sort(([a], [b]) => b - a).map(([, group]) => group)
}

function ranksOf(risk: ArrayLike<number>): { of: Int32Array; distinct: number } {
  const values = Float64Array.from(risk).sort()
  const rank = new Map<number, number>()
  for (const value of values) if (!rank.has(value)) rank.set(value, rank.size)
  const of = new Int32Array(risk.length)
  for (let i = 0; i < of.length; i++) of[i] = rank.get(risk[i]!)!
  return { of, distinct: rank.size }
}

/** Pairs within a group that both failed, by whether their risks are alike. */
function tiesOf(
  group: number[],
  failed: ArrayLike<number>,
  rank: Int32Array,
): { alike: number; unlike: number } {
  const byRank = new Map<number, { sum: number; squares: number }>()
  let [sum, squares, alike] = [0, 0, 0]
  for (const i of group) {
    const own = byRank.get(rank[i]!) ?? { sum: 0, squares: 0 }
    own.sum += failed[i]!
    own.squares += failed[i]! ** 2
    sum += failed[i]!
    squares += failed[i]! ** 2
    byRank.set(rank[i]!, own)
  }
  for (const own of byRank.values()) alike += (own.sum ** 2 - own.squares) / 2
  return { alike, unlike: (sum ** 2 - squares) / 2 - alike }
}

/** Fenwick tree: sums up to a rank in O(log n). */
class CountsByRank {
  private readonly tree: Float64Array
  private readonly counts: Float64Array
  total = 0

  constructor(size: number) {
    this.tree = new Float64Array(size + 1)
    this.counts = new Float64Array(size)
  }

  add(rank: number, count: number): void {
    this.total += count
    this.counts[rank] = this.counts[rank]! + count
    for (let k = rank + 1; k < this.tree.length; k += k & -k) this.tree[k] = this.tree[k]! + count
  }

  at(rank: number): number {
    return this.counts[rank]!
  }

  below(rank: number): number {
    let sum = 0
    for (let k = rank; k > 0; k -= k & -k) sum += this.tree[k]!
    return sum
  }
}

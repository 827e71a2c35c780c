/** Positions of one weak point whose histories differ, on the same lives. */
import type { CountsByNode } from '@/lib/model/event-counts'

/** Weights that differ by no more than this are alike. */
const ALIKE = 1e-12

/** Which of its own nodes a position has at each node of a common weight, and in which shares, one after the other. */
export interface Coupling {
  common: number[]
  own: number[]
  /** Those of one common node sum to 1. */
  share: number[]
}

/**
 * The nodes of one position at those of a common weight. Its own history weighs its nodes otherwise than another's; its
 * shortest lives go with the common shortest, its longest with the longest, share for share (the comonotone coupling).
 * So short lives come together, and each position on the whole comes to exactly what it comes to by itself.
 *
 * @param own what the nodes weigh for this position; sums to 1
 * @param common what they weigh for all; sums to 1
 * @param order the nodes from the shortest to the longest life
 * @returns null where every node goes with itself
 */
export function couplingOf(
  own: Float64Array,
  common: Float64Array,
  order: readonly number[],
): Coupling | null {
  if (areAlike(own, common)) return null
  const coupling: Coupling = { common: [], own: [], share: [] }
  const ranked = order.filter((k) => own[k]! > 0)
  let [at, left] = [0, own[ranked[0]!]!]
  for (const k of order) {
    for (let wanted = common[k]!; wanted > 0; ) {
      const last = at === ranked.length - 1 // rounding leaves it a little too little
      const taken = last ? wanted : Math.min(wanted, left)
      coupling.common.push(k)
      coupling.own.push(ranked[at]!)
      coupling.share.push(taken / common[k]!)
      wanted -= taken
      left -= taken
      if (!last && !(left > 0)) left = own[ranked[++at]!]!
    }
  }
  return coupling
}

function areAlike(own: Float64Array, common: Float64Array): boolean {
  for (let k = 0; k < own.length; k++) if (Math.abs(own[k]! - common[k]!) > ALIKE) return false
  return true
}

/**
 * What one position comes to at each node of the common weight.
 *
 * @param counts at the nodes that its own weight has
 * @param told the room for it
 */
export function onCommonLives(
  counts: CountsByNode,
  { common, own, share }: Coupling,
  told: CountsByNode,
): CountsByNode {
  const { stride, row, chance } = counts
  told.begin(counts.nodes, counts.mostOfAny, counts.mostDue)
  for (let i = 0; i < share.length; i++) {
    const [to, from] = [common[i]!, own[i]!]
    const most = counts.most[from]!
    told.most[to] = Math.max(told.most[to]!, most)
    const [into, at] = [to * told.stride, from * stride]
    for (let j = 0; j < (most + 1) * row; j++)
      told.chance[into + j] = told.chance[into + j]! + share[i]! * chance[at + j]!
  }
  return told
}

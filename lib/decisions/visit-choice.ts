/** What could be done on a vehicle's visit, and at which prices: kept with its score, as it rests on the same. */
import type { AdviceGround } from './advice'
import type { BundleCandidate } from './bundle'
import { bundleCandidates } from './bundle-candidates'

/** Nothing can be said of a vehicle that is not assessed. */
export type VisitChoice =
  | { candidates: BundleCandidate[]; visit: number; labourRate: number }
  | { candidates: null }

/** @param ground null: the vehicle is not assessed */
export function visitChoice(ground: AdviceGround | null): VisitChoice {
  if (ground === null) return { candidates: null }
  const { visit, labourRate } = ground.prices
  return { candidates: bundleCandidates(ground), visit, labourRate }
}

/** How many of each part will be needed: failures that may come, and jobs that are planned. */
import { enoughFor, poissonBinomial } from '@/lib/model/poisson-binomial'

/** One component, and how likely its part is needed within the time that is asked about. */
export interface PartNeed {
  part: string
  /** P(it fails within it); 1 for a planned job, which takes its part whether it fails before or not. */
  chance: number
}

export interface PartDemand {
  part: string
  mean: number
  /** Enough in nine of ten, in nineteen of twenty cases. */
  p90: number
  p95: number
  /** Enough with the chance that is asked for, less what is there or on its way; 0 where that is enough. */
  toOrder: number
}

export interface PartsInHand {
  onHand?: ReadonlyMap<string, number>
  onOrder?: ReadonlyMap<string, number>
  /** Share of all cases in which there are to be enough. */
  serviceLevel?: number
}

const USUAL_LEVEL = 0.95

/** By part, in the order of their names; the needs are independent of each other. */
export function partsDemand(needs: readonly PartNeed[], inHand: PartsInHand = {}): PartDemand[] {
  const { onHand, onOrder, serviceLevel = USUAL_LEVEL } = inHand
  const byPart = new Map<string, number[]>()
  for (const { part, chance } of needs) {
    const chances = byPart.get(part) ?? []
    chances.push(chance)
    byPart.set(part, chances)
  }
  return [...byPart]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([part, chances]) => {
      const count = poissonBinomial(chances)
      const there = (onHand?.get(part) ?? 0) + (onOrder?.get(part) ?? 0)
      return {
        part,
        mean: chances.reduce((a, b) => a + b, 0),
        p90: enoughFor(count, 0.9),
        p95: enoughFor(count, 0.95),
        toOrder: Math.max(enoughFor(count, serviceLevel) - there, 0),
      }
    })
}

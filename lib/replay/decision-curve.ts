/** What acting above a chance is worth, in failures caught. */
import type { Forecasts } from './forecasts'

export interface NetBenefit {
  /** Whoever acts at this chance holds a needless job for so many times as bad as a failure: t/(1 − t) of it. */
  threshold: number
  truePositives: number
  falsePositives: number
  /** Per case: failures caught less needless jobs, each at t/(1 − t) of a failure. */
  netBenefit: number
  /** The same where every part is done. */
  netBenefitAll: number
}

/**
 * The decision curve (Vickers & Elkin 2006, Medical Decision Making 26, 565–574). A chance at the threshold counts
 * as acted on.
 *
 * @param thresholds above 0 and below 1
 */
export function decisionCurve({ chance, outcome }: Forecasts, thresholds: readonly number[]): NetBenefit[] {
  const count = chance.length
  let failed = 0
  for (let i = 0; i < count; i++) failed += outcome[i]!
  return thresholds.map((threshold) => {
    const price = threshold / (1 - threshold)
    let [truePositives, falsePositives] = [0, 0]
    for (let i = 0; i < count; i++) {
      if (chance[i]! < threshold) continue
      truePositives += outcome[i]!
      falsePositives += 1 - outcome[i]!
    }
    const worth = (caught: number, needless: number) => (count > 0 ? (caught - price * needless) / count : 0)
    return {
      threshold,
      truePositives,
      falsePositives,
      netBenefit: worth(truePositives, falsePositives),
      netBenefitAll: worth(failed, count - failed),
    }
  })
}

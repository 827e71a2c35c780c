/** What to set aside for one vehicle over a cover period, as three amounts. */
import { quantiles, roundingOf } from '@/lib/model/lattice'
import type { AdviceGround } from './advice'
import { type SetAsideTerms, setAsideDetail } from './set-aside-detail'

export type { Cover, SetAsideTerms } from './set-aside-detail'

export interface SetAside {
  /** Enough in half of all cases, in four of five, in nineteen of twenty. */
  p50: number
  p80: number
  p95: number
  mean: number
  /** Of the mean, what is due to parts of which nobody knows how old they are. */
  meanOfUnknownHistory: number
  /** The three amounts are right to so much: costs were rounded before they were added. */
  roundedBy: number
}

const LEVELS = [0.5, 0.8, 0.95] as const

export function setAside(ground: AdviceGround, terms: SetAsideTerms): SetAside {
  const { total, points } = setAsideDetail(ground, terms)
  const [p50, p80, p95] = quantiles(total, LEVELS)
  return {
    p50: p50!,
    p80: p80!,
    p95: p95!,
    mean: total.mean,
    meanOfUnknownHistory: points.reduce((sum, each) => sum + each.meanOfUnknownHistory, 0),
    roundedBy: roundingOf(total),
  }
}

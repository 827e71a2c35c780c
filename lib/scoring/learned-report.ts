/** What was learned of a weak point, as people compare it with what is stated. */
import { normalCdf } from '@/lib/model/normal'
import { weightedQuantiles } from '@/lib/model/outlook'
import type { WeakPoint } from '@/lib/records/library'
import { type LearnedLife, type LifeCounts, wasLearned } from './family-fit'
import { type LifeFactor, lifeFactors } from './life-ways'

/** A middle value and the 80 % band about it. */
export interface Banded {
  value: number
  low: number
  high: number
}

export interface LearnedFactor extends Pick<LifeFactor, 'of' | 'key'> {
  /** On how long the original part lasts. */
  factor: Banded
  /** P(it lasts longer than the original part). */
  longer: number
}

export interface LearnedReport {
  lives: LifeCounts
  /** When half of the new original parts have begun to go, in the clock's unit. */
  half: Banded
  /** The median from there to the breakdown; null where it breaks down without warning. */
  warning: Banded | null
  factors: LearnedFactor[]
}

const BAND = [0.1, 0.5, 0.9] as const
/** The 90th percentile of a standard normal. */
const TENTH = 1.2815515655446004

/** @returns null where nothing was learned, and the statement stands */
export function learnedReport(weakPoint: WeakPoint, life: LearnedLife): LearnedReport | null {
  if (!wasLearned(life)) return null
  const { nodes, lives, mode } = life
  const halves = nodes.scale.map((scale, k) => scale * Math.LN2 ** (1 / nodes.shape[k]!))
  const warnings = nodes.pfMean.map((mean) => mean * Math.LN2)
  return {
    lives,
    half: banded(halves, nodes.weight),
    warning: mode.pfMean > 0 ? banded(warnings, nodes.weight) : null,
    factors: lifeFactors(weakPoint).map(({ of, key }, i) => {
      const { log, seLog } = life.factors[i]!
      const [low, high] = [Math.exp(log - TENTH * seLog), Math.exp(log + TENTH * seLog)]
      return { of, key, factor: { value: Math.exp(log), low, high }, longer: normalCdf(log / seLog) }
    }),
  }
}

function banded(values: Float64Array, weights: Float64Array): Banded {
  const [low, value, high] = weightedQuantiles(values, weights, BAND)
  return { low: low!, value: value!, high: high! }
}

/** How many failures may lie behind a count of failures. */
import { gammaQuantile } from './inner/incomplete-gamma'

export interface Interval {
  low: number
  high: number
}

/**
 * The interval of a mean, given a count of independent events: exact for a Poisson count (Garwood 1936).
 *
 * With weights, the interval of a weighted sum of Poisson counts (Fay & Feuer 1997, Statistics in Medicine 16,
 * 791–801, from memory), which is the exact one where all weights are 1: an event that counts in three overlapping
 * windows is one event of weight 3. Where nothing was counted the largest weight is taken as 1.
 *
 * @param weights one an event, above 0
 * @param level share of such intervals that hold the mean, at least
 */
export function poissonInterval(weights: readonly number[], level = 0.95): Interval {
  const tail = (1 - level) / 2
  const total = weights.reduce((sum, w) => sum + w, 0)
  const squares = weights.reduce((sum, w) => sum + w * w, 0)
  const largest = weights.reduce((most, w) => Math.max(most, w), 0) || 1
  const [sum, variance] = [total + largest, squares + largest ** 2]
  return {
    low: total === 0 ? 0 : (squares / total) * gammaQuantile(total ** 2 / squares, { below: tail }),
    high: (variance / sum) * gammaQuantile(sum ** 2 / variance, { above: tail }),
  }
}

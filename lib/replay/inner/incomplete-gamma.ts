/** The regularised incomplete gamma function, and its inverse: the quantiles of a gamma distribution. */
import { logGamma } from '@/lib/model/log-gamma'
import { findRoot } from '@/lib/model/roots'

const MOST_TERMS = 10_000
const NEGLIGIBLE = 1e-17
/** Keeps a continued fraction off a division by zero. */
const TINY = 1e-300

/**
 * P(a, x) and Q(a, x) = 1 − P(a, x): the smaller is computed, by the power series or by the continued fraction
 * (Lentz), so that neither loses its digits. Chance that a gamma variable of shape a and scale 1 is below x, above x.
 *
 * @param shape above 0
 */
export function gammaTails(shape: number, x: number): { below: number; above: number } {
  if (x <= 0) return { below: 0, above: 1 }
  const front = Math.exp(shape * Math.log(x) - x - logGamma(shape))
  if (x < shape + 1) {
    const below = Math.min(front * powerSeries(shape, x), 1)
    return { below, above: 1 - below }
  }
  const above = Math.min(front * continuedFraction(shape, x), 1)
  return { below: 1 - above, above }
}

function powerSeries(shape: number, x: number): number {
  let term = 1 / shape
  let sum = term
  for (let n = 1; n < MOST_TERMS && term > NEGLIGIBLE * sum; n++) {
    term *= x / (shape + n)
    sum += term
  }
  return sum
}

function continuedFraction(shape: number, x: number): number {
  let b = x + 1 - shape
  let c = 1 / TINY
  let d = 1 / b
  let h = d
  for (let n = 1; n < MOST_TERMS; n++) {
    const a = n * (shape - n)
    b += 2
    d = 1 / awayFromZero(a * d + b)
    c = awayFromZero(b + a / c)
    h *= c * d
    if (Math.abs(c * d - 1) < 1e-16) break
  }
  return h
}

const awayFromZero = (value: number): number => (Math.abs(value) < TINY ? TINY : value)

/**
 * The quantile of a gamma distribution with scale 1.
 *
 * @param shape 0 or more; at 0 all mass lies at 0
 * @param tail the chance of lying below it, or above it: whichever is the smaller keeps its digits
 */
export function gammaQuantile(shape: number, tail: { below: number } | { above: number }): number {
  if (shape === 0) return 0
  const miss = (x: number): number => {
    const { below, above } = gammaTails(shape, x)
    return 'below' in tail ? below - tail.below : tail.above - above
  }
  let high = shape + 1
  while (miss(high) < 0) high *= 2
  return findRoot(miss, 0, high)
}

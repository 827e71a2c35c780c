import { medianOfAscending } from './median'

/** Above this many points the fit runs on evenly spaced ones, which bounds the pairs at 44,850. */
const MOST_POINTS = 300

/** Standard normal quantile of the two-sided 80 % interval. */
const Z_80 = 1.2815515655446004

export type TheilSenFit =
  | { ok: true; slope: number; intercept: number; low: number; high: number; pairs: number }
  | { ok: false; reason: 'too-few-readings' }

/**
 * Theil–Sen line: the median of the slopes between all pairs of points that differ in x, which up to
 * 29 % of wild points cannot move far; intercept = median(y) − slope · median(x).
 *
 * The interval holds the slopes of ranks round((N ∓ z·σ)/2), with the variance σ² of Kendall's statistic
 * corrected for ties in x and in y. More than 300 points are thinned to 300, evenly spaced in order of x
 * with both ends kept; the same points give the same answer in any order.
 *
 * @param x abscissae, finite, in any order; @param y ordinates, finite, as many.
 * @param z standard normal quantile of the interval wanted (1.2816: 80 %; 1.96: 95 %).
 * @returns `too-few-readings` where no two points differ in x.
 * @see Theil (1950); Sen (1968), equation 2.6; cited from memory, checked against scipy's theilslopes.
 */
export function theilSen(x: ArrayLike<number>, y: ArrayLike<number>, z: number = Z_80): TheilSenFit {
  const points = thinned(x, y)
  const slopes = pairSlopes(points.x, points.y)
  if (slopes.length === 0) return { ok: false, reason: 'too-few-readings' }
  const slope = medianOfAscending(slopes)
  const xs = points.x.sort()
  const ys = points.y.sort()
  const half = z * kendallSigma(xs, ys)
  const lowRank = Math.max(roundHalfToEven((slopes.length - half) / 2) - 1, 0)
  const highRank = Math.min(roundHalfToEven((slopes.length + half) / 2), slopes.length - 1)
  return {
    ok: true,
    slope,
    intercept: medianOfAscending(ys) - slope * medianOfAscending(xs),
    low: slopes[lowRank]!,
    high: slopes[highRank]!,
    pairs: slopes.length,
  }
}

/** The points in order of (x, y), at most MOST_POINTS of them. */
function thinned(x: ArrayLike<number>, y: ArrayLike<number>): { x: Float64Array; y: Float64Array } {
  const order = Array.from({ length: x.length }, (_, i) => i).sort((a, b) => x[a]! - x[b]! || y[a]! - y[b]!)
  const kept = Math.min(order.length, MOST_POINTS)
  const step = kept > 1 ? (order.length - 1) / (kept - 1) : 0
  const chosen = Array.from({ length: kept }, (_, k) => order[Math.round(k * step)]!)
  return { x: Float64Array.from(chosen, (i) => x[i]!), y: Float64Array.from(chosen, (i) => y[i]!) }
}

/** Slopes of every pair with different x, ascending; x must be ascending. */
function pairSlopes(x: Float64Array, y: Float64Array): Float64Array {
  const slopes = new Float64Array((x.length * (x.length - 1)) / 2)
  let count = 0
  for (let j = 1; j < x.length; j++) {
    for (let i = 0; i < j; i++) {
      if (x[j]! > x[i]!) slopes[count++] = (y[j]! - y[i]!) / (x[j]! - x[i]!)
    }
  }
  return slopes.subarray(0, count).sort()
}

/** Standard deviation of Kendall's S with ties; both arguments ascending. */
function kendallSigma(x: Float64Array, y: Float64Array): number {
  return Math.sqrt((kendallTerm(x.length) - tieTerms(x) - tieTerms(y)) / 18)
}

const kendallTerm = (n: number): number => n * (n - 1) * (2 * n + 5)

function tieTerms(ascending: Float64Array): number {
  let sum = 0
  let run = 1
  for (let i = 1; i <= ascending.length; i++) {
    if (ascending[i] === ascending[i - 1]) {
      run++
    } else {
      sum += kendallTerm(run)
      run = 1
    }
  }
  return sum
}

/**
 * IEEE rounding to the nearest integer, halves to the even one, as the reference implementation rounds ranks.
 */
function roundHalfToEven(value: number): number {
  const floor = Math.floor(value)
  const rest = value - floor
  if (rest !== 0.5) return Math.round(value)
  return floor % 2 === 0 ? floor : floor + 1
}

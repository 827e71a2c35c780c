/** The greatest value of a smooth function of a few variables, and how sharply it peaks there. */
import { dot, invertPositive, type Matrix, multiply } from './cholesky'

/** A function at one point; −∞ or NaN where it is not defined. */
export type Valued = { value: number; gradient: Float64Array }
export type Smooth = (point: ArrayLike<number>) => Valued

export type Maximum = Valued & {
  point: number[]
  /** The inverse of minus the Hessian: the covariance of a normal with this peak. */
  covariance: Matrix
}

const STEPS = 60
const NEWTON_STEPS = 12
/** A climb of less, relative to the value, is rounding. */
const LEVEL = 1e-13
/** Squared distance from the peak, in units of its own width, that is near enough. */
const CLOSE = 1e-12
/** The same, where the peak is as round as its Hessian says. */
const NEAR = 1e-4
/** For derivatives of the gradient; the logarithms that are varied are of the order of 1. */
const NUDGE = 1e-4
const HALVINGS = 25
/** No variable moves by more in one step. */
const LONGEST = 2

/**
 * Climbs by the quasi-Newton method of Broyden, Fletcher, Goldfarb and Shanno (1970; Nocedal & Wright, from memory)
 * from each start, beginning with the function's own curvature where it is that of a peak; the higher end is then
 * refined by Newton steps.
 *
 * @param scale a guess of how far each variable may have to move
 * @returns null where no peak was reached: not converged, not finite, or not curved like a peak
 */
export function maximise(
  f: Smooth,
  starts: readonly (readonly number[])[],
  scale: readonly number[],
): Maximum | null {
  const ends = starts.flatMap((point) => climb(f, { point: [...point], ...f(point) }, scale) ?? [])
  const best = ends.toSorted((a, b) => b.value - a.value)[0]
  return best ? polish(f, best) : null
}

/**
 * The same from a point that is known to be near a peak: Newton steps alone.
 *
 * @returns null where they lead to none
 */
export const maximiseNear = (f: Smooth, point: readonly number[]): Maximum | null =>
  polish(f, { point: [...point], ...f(point) })

type Place = Valued & { point: number[] }

const isDefined = ({ value, gradient }: Valued) => Number.isFinite(value) && gradient.every(Number.isFinite)
const diagonal = (scale: readonly number[]) => scale.map((s, i) => scale.map((_, j) => (i === j ? s * s : 0)))

/** Up, as far as rounding lets a step be seen to climb. */
function climb(f: Smooth, start: Place, scale: readonly number[]): Place | null {
  if (!isDefined(start)) return null
  let here = start
  let inverse = invertPositive(curvature(f, start.point)) ?? diagonal(scale)
  for (let step = 0; step < STEPS; step++) {
    const next = alongLine(f, here, multiply(inverse, here.gradient))
    if (!next || next.value - here.value < LEVEL * (1 + Math.abs(here.value))) return next ?? here
    inverse = updated(inverse, here, next)
    here = next
  }
  return here
}

/** The first of ever shorter steps that climbs by a fair share of what the slope promises (Armijo 1966). */
function alongLine(f: Smooth, here: Place, direction: number[]): Place | null {
  const rise = dot(direction, here.gradient)
  let length = Math.min(1, LONGEST / Math.max(...direction.map(Math.abs)))
  for (let i = 0; i < HALVINGS; i++, length /= 2) {
    const point = here.point.map((x, j) => x + length * direction[j]!)
    const next = f(point)
    if (isDefined(next) && next.value >= here.value + 1e-4 * length * rise) return { point, ...next }
  }
  return null
}

/** The inverse Hessian (of minus f), corrected by what the last step showed; kept where it showed no peak. */
function updated(inverse: Matrix, from: Place, to: Place): Matrix {
  const s = to.point.map((x, i) => x - from.point[i]!)
  const y = s.map((_, i) => from.gradient[i]! - to.gradient[i]!)
  const sy = dot(s, y)
  if (!(sy > 0)) return inverse
  const hy = multiply(inverse, y)
  const growth = (1 + dot(y, hy) / sy) / sy
  return inverse.map((row, i) =>
    row.map((h, j) => h + growth * s[i]! * s[j]! - (hy[i]! * s[j]! + s[i]! * hy[j]!) / sy),
  )
}

/** Newton steps with the full Hessian; the last one tells the covariance. */
function polish(f: Smooth, near: Place): Maximum | null {
  let here = near
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const covariance = invertPositive(curvature(f, here.point))
    if (!covariance) return null
    const direction = multiply(covariance, here.gradient)
    const rise = dot(direction, here.gradient)
    if (rise < CLOSE) return { ...here, covariance }
    // Near the peak the whole step; further off one that is seen to climb.
    const next = rise < NEAR ? stepped(f, here, direction) : alongLine(f, here, direction)
    if (!next || !isDefined(next)) return null
    here = closer(f, next, covariance)
  }
  return null
}

function stepped(f: Smooth, { point }: Place, direction: number[]): Place {
  const next = point.map((x, i) => x + direction[i]!)
  return { point: next, ...f(next) }
}

/** On with the Hessian of a place near by, for as long as that leads closer: a step is cheap, a Hessian is not. */
function closer(f: Smooth, near: Place, covariance: Matrix): Place {
  let here = near
  let left = riseAt(here, covariance)
  while (left < NEAR && left >= CLOSE) {
    const next = stepped(f, here, multiply(covariance, here.gradient))
    const then = isDefined(next) ? riseAt(next, covariance) : Number.POSITIVE_INFINITY
    if (!(then < left / 2)) return here
    here = next
    left = then
  }
  return here
}

const riseAt = ({ gradient }: Place, covariance: Matrix) => dot(multiply(covariance, gradient), gradient)

/** Minus the Hessian, by central differences of the gradient. */
function curvature(f: Smooth, point: readonly number[]): Matrix {
  const rows = point.map((_, i) => {
    const moved = (by: number) => f(point.map((x, j) => (i === j ? x + by : x))).gradient
    const [up, down] = [moved(NUDGE), moved(-NUDGE)]
    return point.map((__, j) => (down[j]! - up[j]!) / (2 * NUDGE))
  })
  return rows.map((row, i) => row.map((h, j) => (h + rows[j]![i]!) / 2))
}

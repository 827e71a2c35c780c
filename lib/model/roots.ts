/** Relative change of the estimate at which a root counts as found. */
const TOLERANCE = 1e-13
const MAX_STEPS = 200

/**
 * A root of a continuous function by Ridders' method: bisection whose next point is set by an exponential through
 * the three known ones. It cannot leave its bracket, and takes about 6 steps of two evaluations each.
 *
 * Source: Ridders (1979), IEEE Trans. Circuits and Systems 26, 979-980, from memory.
 *
 * @param f of opposite signs at `low` and `high`, or 0 at one of them; may be infinite there
 * @returns the root; `high` where the signs do not differ
 */
export function findRoot(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high]
  let [fa, fb] = [f(a), f(b)]
  if (fa === 0) return a
  if (fb === 0 || fa > 0 === fb > 0) return b
  let last = Number.NaN
  for (let step = 0; step < MAX_STEPS; step++) {
    const middle = a + (b - a) / 2
    const fm = f(middle)
    const bend = fm / Math.sqrt(fm * fm - fa * fb)
    const x = middle + (middle - a) * (fa > fb ? bend : -bend)
    const fx = x === middle ? fm : f(x)
    if (fx === 0 || Math.abs(x - last) <= TOLERANCE * Math.abs(x)) return x
    last = x
    for (const [point, value] of [[middle, fm] as const, [x, fx] as const]) {
      if (point <= Math.min(a, b) || point >= Math.max(a, b)) continue
      if (value > 0 === fa > 0) [a, fa] = [point, value]
      else [b, fb] = [point, value]
    }
  }
  return last
}

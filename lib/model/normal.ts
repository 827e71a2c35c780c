const SQRT_2_PI = Math.sqrt(2 * Math.PI)
/** Beyond it the tail is below 1e-15. */
const FAR = 8

/**
 * P(Z ≤ z) of a standard normal, to 1e-15: the Taylor series about 0 of Φ over its density (Marsaglia 2004, Evaluating
 * the normal distribution, J. Stat. Software 11).
 */
export function normalCdf(z: number): number {
  if (z <= -FAR) return 0
  if (z >= FAR) return 1
  let sum = z
  let before = 0
  for (let term = z, i = 3; sum !== before; i += 2) {
    before = sum
    term *= (z * z) / i
    sum += term
  }
  return 0.5 + (sum * Math.exp(-(z * z) / 2)) / SQRT_2_PI
}

/** Half of the rule's nodes, less the middle one; chosen so that the two-stage integrals are right to 1e-11. */
const HALF = 40
const STEP = 3.2 / HALF

/** Nodes on (0, 1), as distances from 0, exact down to 1e-17, and their weights. */
const fractions = new Float64Array(2 * HALF + 1)
const weights = new Float64Array(2 * HALF + 1)

for (let k = -HALF; k <= HALF; k++) {
  const y = Math.PI * Math.sinh(k * STEP)
  const fraction = 1 / (1 + Math.exp(-y))
  fractions[k + HALF] = fraction
  weights[k + HALF] = (STEP * Math.PI * Math.cosh(k * STEP) * fraction) / (1 + Math.exp(y))
}

/**
 * The integral of `f` over (0, length) by the double exponential (tanh-sinh) rule.
 *
 * Nodes crowd towards both ends, so a kink or an infinite slope there costs nothing, and neither does a peak at 0
 * if `f` falls by no more than about e^100 over the range: cut longer tails off first ({@link reachOf}).
 * 81 evaluations. Source: Takahasi & Mori (1974), Publ. RIMS 9, 721-741, from memory.
 *
 * @param f finite on (0, length); it is given the distance from the left end without loss of digits
 */
export function integrate(f: (distance: number) => number, length: number): number {
  let sum = 0
  for (let k = 0; k < fractions.length; k++) sum += f(length * fractions[k]!) * weights[k]!
  return sum * length
}

/** What lies e^-36 below the peak changes no sum of doubles. */
const NEGLIGIBLE = -36

/**
 * How far from its peak at 0 a falling function matters: `length`, halved until the half already lies within e^-36.
 *
 * @param logRelative the logarithm of the function over its value at 0, falling
 */
export function reachOf(logRelative: (distance: number) => number, length: number): number {
  let reach = length
  while (logRelative(reach / 2) < NEGLIGIBLE) reach /= 2
  return reach
}

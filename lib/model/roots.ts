/**
 * A root of a continuous function by bisection, to the last digits of a double.
 *
 * Plain on purpose: the functions solved here are cheap and monotone, and bisection cannot leave its bracket.
 *
 * @param f of opposite signs at `low` and `high`, or 0 at one of them; otherwise the answer is an end of the bracket
 */
export function bisect(f: (x: number) => number, low: number, high: number): number {
  const rising = f(high) >= 0
  for (;;) {
    const middle = low + (high - low) / 2
    if (middle <= low || middle >= high || high - low <= 1e-14 * Math.abs(middle)) return middle
    if (f(middle) < 0 === rising) low = middle
    else high = middle
  }
}

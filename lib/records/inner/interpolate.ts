/** How many of the ascending values do not exceed `limit`. O(log n). */
export function countUpTo(ascending: ArrayLike<number>, limit: number): number {
  let low = 0
  let high = ascending.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (ascending[middle]! <= limit) low = middle + 1
    else high = middle
  }
  return low
}

/** A line through points of which x strictly ascends. */
export interface Line {
  x: ArrayLike<number>
  y: ArrayLike<number>
}

/** The line's height at `at`, which must lie between its first and its last x. O(log n). */
export function interpolate({ x, y }: Line, at: number): number {
  const right = Math.min(countUpTo(x, at), x.length - 1)
  const left = Math.max(right - 1, 0)
  if (x[right]! <= at) return y[right]!
  return y[left]! + ((y[right]! - y[left]!) * (at - x[left]!)) / (x[right]! - x[left]!)
}

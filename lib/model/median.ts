/**
 * Median of values in ascending order, at least one; of an even number the mean of the middle two.
 */
export function medianOfAscending(ascending: ArrayLike<number>): number {
  const middle = ascending.length >> 1
  return ascending.length % 2 === 1 ? ascending[middle]! : (ascending[middle - 1]! + ascending[middle]!) / 2
}

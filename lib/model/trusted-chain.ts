/**
 * Longest trusted chain: the largest subset of readings with 0 ≤ Δkm ≤ cap · Δday between any two.
 *
 * With u = km and v = cap · day − km the condition says that neither u nor v falls from a reading to a later
 * one, so the subset is a longest chain in two coordinates: sort by (u, v) and take a longest non-decreasing
 * subsequence of v (patience sorting). Readings on one day agree only where they are equal.
 *
 * Among equally long chains it is the one that holds the latest readings: whose last reading is latest in
 * time order (day, then km, then position in the input), among those whose last but one is latest, and so on.
 * Where several readings of one day fit equally well, that is the highest.
 *
 * @param day days, finite, in any order; @param km odometers, finite, as many.
 * @param capKmPerDay largest credible distance per day, > 0.
 * @returns the chosen indices in time order; O(n log n).
 */
export function longestTrustedChain(
  day: ArrayLike<number>,
  km: ArrayLike<number>,
  capKmPerDay: number,
): Int32Array {
  const slack = Float64Array.from({ length: day.length }, (_, i) => capKmPerDay * day[i]! - km[i]!)
  const length = chainLengths(km, slack)
  const inTime = indices(day.length).sort((a, b) => day[a]! - day[b]! || km[a]! - km[b]! || a - b)
  let wanted = 0
  for (const value of length) wanted = Math.max(wanted, value)
  const chain = new Int32Array(wanted)
  let next = -1
  for (let k = inTime.length - 1; wanted > 0; k--) {
    const i = inTime[k]!
    const fits = next < 0 || (km[i]! <= km[next]! && slack[i]! <= slack[next]!)
    if (length[i] !== wanted || !fits) continue
    chain[--wanted] = i
    next = i
  }
  return chain
}

/** For each reading the length of the longest chain that ends with it. */
function chainLengths(km: ArrayLike<number>, slack: Float64Array): Int32Array {
  const length = new Int32Array(slack.length)
  const lowestEnd = new Float64Array(slack.length) // of all chains of length k + 1 so far, the lowest last slack
  let longest = 0
  for (const i of indices(slack.length).sort((a, b) => km[a]! - km[b]! || slack[a]! - slack[b]! || a - b)) {
    const at = firstAbove(lowestEnd, longest, slack[i]!)
    lowestEnd[at] = slack[i]!
    length[i] = at + 1
    longest = Math.max(longest, at + 1)
  }
  return length
}

/** Position of the first of `count` ascending values that lies above `limit`; `count` where none does. */
function firstAbove(ascending: Float64Array, count: number, limit: number): number {
  let low = 0
  let high = count
  while (low < high) {
    const middle = (low + high) >> 1
    if (ascending[middle]! <= limit) low = middle + 1
    else high = middle
  }
  return low
}

const indices = (count: number): Int32Array => Int32Array.from({ length: count }, (_, i) => i)

/**
 * How many of several unlike coins show heads: the Poisson-binomial distribution, exactly, by convolution of halves.
 * What the far ends hold is left out below 1e-18 a fold, so that ten thousand rare events stay short.
 */

/** P(offset + i heads) = chance[i]. */
export interface Count {
  offset: number
  chance: Float64Array
}

const NEGLIGIBLE = 1e-18
/** Rounding of a sum of chances. */
const SLACK = 1e-12

/** @param chances 0 to 1, each of an independent event */
export function poissonBinomial(chances: ArrayLike<number>): Count {
  return between(chances, 0, chances.length)
}

/** So few coins are added one by one. */
const FEW = 32

function between(chances: ArrayLike<number>, from: number, to: number): Count {
  if (to - from <= FEW) return oneByOne(chances, from, to)
  const middle = (from + to) >> 1
  return addCounts(between(chances, from, middle), between(chances, middle, to))
}

function oneByOne(chances: ArrayLike<number>, from: number, to: number): Count {
  const chance = new Float64Array(to - from + 1)
  chance[0] = 1
  for (let i = from; i < to; i++) {
    const p = chances[i]!
    for (let heads = i - from + 1; heads > 0; heads--)
      chance[heads] = chance[heads]! * (1 - p) + chance[heads - 1]! * p
    chance[0] = chance[0]! * (1 - p)
  }
  return trimmed({ offset: 0, chance })
}

/** How many of two sets of coins together, which know nothing of each other. */
export function addCounts(a: Count, b: Count): Count {
  const chance = new Float64Array(a.chance.length + b.chance.length - 1)
  for (let i = 0; i < a.chance.length; i++) {
    const p = a.chance[i]!
    if (p === 0) continue
    for (let j = 0; j < b.chance.length; j++) chance[i + j] = chance[i + j]! + p * b.chance[j]!
  }
  return trimmed({ offset: a.offset + b.offset, chance })
}

/**
 * One of several counts, nobody knows which.
 *
 * @param weights of each; they sum to 1
 */
export function mixCounts(counts: readonly Count[], weights: readonly number[]): Count {
  const offset = Math.min(...counts.map((count) => count.offset))
  const end = Math.max(...counts.map((count) => count.offset + count.chance.length))
  const chance = new Float64Array(end - offset)
  counts.forEach((count, k) => {
    count.chance.forEach((p, i) => {
      const at = count.offset - offset + i
      chance[at] = chance[at]! + weights[k]! * p
    })
  })
  return { offset, chance }
}

/** So many for certain, on top. */
export const moreCertain = ({ offset, chance }: Count, certain: number): Count => ({
  offset: offset + certain,
  chance,
})

/** P(at most so many). */
export function chanceWithin({ offset, chance }: Count, most: number): number {
  let within = 0
  for (let i = 0; i < chance.length && offset + i <= most; i++) within += chance[i]!
  return within >= 1 - SLACK ? 1 : within
}

function trimmed({ offset, chance }: Count): Count {
  let [first, last] = [0, chance.length - 1]
  while (first < last && chance[first]! < NEGLIGIBLE) first++
  while (last > first && chance[last]! < NEGLIGIBLE) last--
  return { offset: offset + first, chance: chance.slice(first, last + 1) }
}

/** The least number that is enough with at least this chance. */
export function enoughFor({ offset, chance }: Count, level: number): number {
  let below = 0
  for (let i = 0; i < chance.length; i++) {
    below += chance[i]!
    if (below >= level - SLACK) return offset + i
  }
  return offset + chance.length - 1
}

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

/** @param chances 0 to 1, each of an independent event */
export function poissonBinomial(chances: ArrayLike<number>): Count {
  return between(chances, 0, chances.length)
}

function between(chances: ArrayLike<number>, from: number, to: number): Count {
  if (to === from) return { offset: 0, chance: Float64Array.of(1) }
  if (to - from === 1) return { offset: 0, chance: Float64Array.of(1 - chances[from]!, chances[from]!) }
  const middle = (from + to) >> 1
  return together(between(chances, from, middle), between(chances, middle, to))
}

function together(a: Count, b: Count): Count {
  const chance = new Float64Array(a.chance.length + b.chance.length - 1)
  for (let i = 0; i < a.chance.length; i++) {
    const p = a.chance[i]!
    if (p === 0) continue
    for (let j = 0; j < b.chance.length; j++) chance[i + j] = chance[i + j]! + p * b.chance[j]!
  }
  return trimmed({ offset: a.offset + b.offset, chance })
}

function trimmed({ offset, chance }: Count): Count {
  let [first, last] = [0, chance.length - 1]
  while (first < last && chance[first]! < NEGLIGIBLE) first++
  while (last > first && chance[last]! < NEGLIGIBLE) last--
  return { offset: offset + first, chance: chance.slice(first, last + 1) }
}

/** Rounding of a sum of chances. */
const SLACK = 1e-12

/** The least number that is enough with at least this chance. */
export function enoughFor({ offset, chance }: Count, level: number): number {
  let below = 0
  for (let i = 0; i < chance.length; i++) {
    below += chance[i]!
    if (below >= level - SLACK) return offset + i
  }
  return offset + chance.length - 1
}

/** A small seeded generator: the same text gives the same stream on every machine. */
export type Random = {
  /** Uniform in [0, 1). */
  next(): number
  /** What is certain or impossible (1 or 0) takes no draw. */
  chance(p: number): boolean
  between(low: number, high: number): number
  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number
  pick<T>(list: readonly T[]): T
  /** Standard normal. */
  normal(): number
  /** Exponential with mean 1. */
  exponential(): number
}

/**
 * Mulberry32 (T. Ettinger, public domain, from memory): 32 bits of state, plenty for inventing records,
 * never for statistics or secrets.
 *
 * @param seed any text; its FNV-1a hash is the starting state, so that each vehicle has a stream of its own
 *   and a change to one leaves the others as they were.
 */
export function makeRandom(seed: string): Random {
  let state = hash(seed)
  const next = () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  const exponential = () => -Math.log(1 - next())
  return {
    next,
    chance: (p) => p >= 1 || (p > 0 && next() < p),
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    pick: (list) => list[Math.floor(next() * list.length)]!,
    normal: () => Math.sqrt(2 * exponential()) * Math.cos(2 * Math.PI * next()),
    exponential,
  }
}

function hash(text: string): number {
  let h = 0x811c9dc5
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193)
  return h
}

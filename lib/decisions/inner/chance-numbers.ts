/** Numbers from 0 to 1 that come the same each time. Source: xorshift32, Marsaglia (2003), J. Stat. Softw. 8 (14). */
export function chanceNumbers(seed: number): () => number {
  let state = seed >>> 0 || 1
  return () => {
    state ^= state << 13
    state >>>= 0
    state ^= state >>> 17
    state ^= state << 5
    state >>>= 0
    return state / 4_294_967_296
  }
}

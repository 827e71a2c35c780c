/** A seeded source of chance for simulations: the same seed gives the same numbers everywhere. */
export interface Random {
  /** Uniform on the open interval (0, 1). */
  uniform(): number
  exponential(): number
}

/** The generator mulberry32 (public domain). @param seed any whole number */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4_294_967_296
  }
  return { uniform, exponential: () => -Math.log(uniform()) }
}

/** A seeded source of chance for the simulated world: the same seed gives the same world everywhere. */
export type Random = {
  /** Uniform on the open interval (0, 1). */
  uniform(): number
  /** A whole number from 0 to `count` − 1. */
  below(count: number): number
  chance(probability: number): boolean
  normal(): number
  exponential(mean: number): number
}

/**
 * The generator sfc32 of Chris Doty-Humphrey's PractRand (from memory), started from splitmix32.
 *
 * @param seed any whole number.
 */
export function seeded(seed: number): Random {
  let mix = seed | 0
  const splitmix = () => {
    mix = (mix + 0x9e3779b9) | 0
    let t = mix ^ (mix >>> 16)
    t = Math.imul(t, 0x21f0aaad)
    t ^= t >>> 15
    t = Math.imul(t, 0x735a2d97)
    return t ^ (t >>> 15)
  }
  let a = splitmix()
  let b = splitmix()
  let c = splitmix()
  let counter = 1
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = ((c << 21) | (c >>> 11)) + sum
    return (sum >>> 0) / 2 ** 32
  }
  const uniform = () => next() + 2 ** -33
  for (let i = 0; i < 12; i++) next()
  return {
    uniform,
    below: (count) => Math.floor(uniform() * count),
    chance: (probability) => uniform() < probability,
    // Box and Muller 1958
    normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
    exponential: (mean) => -mean * Math.log(uniform()),
  }
}

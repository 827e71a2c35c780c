import type { Tick } from './axis'

/**
 * Round marks from nought to at least `most`: some four of them, in steps of 1, 2 or 5 times a power of ten.
 *
 * @param words what stands at a mark
 */
export function ticksUpTo(most: number, words: (at: number) => string): Tick[] {
  const rough = most > 0 ? most / 4 : 1
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = [1, 2, 5, 10].map((times) => times * power).find((each) => each >= rough) ?? rough
  const count = Math.max(1, Math.ceil(most / step - 1e-9))
  return Array.from({ length: count + 1 }, (_, i) => tick(i * step, words))
}

/** So many marks at even distances, the ends among them. */
export function ticksBetween(from: number, to: number, count: number, words: (at: number) => string): Tick[] {
  const last = Math.max(to, from + 1)
  return Array.from({ length: count }, (_, i) =>
    tick(Math.round(from + ((last - from) * i) / (count - 1)), words),
  )
}

const tick = (at: number, words: (at: number) => string): Tick => ({ at, label: words(at) })

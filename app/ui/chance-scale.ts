/** The length of the one scale of every chance, in its own units. */
export const SCALE_WIDTH = 130

/** Where a chance from 0 to 1 lies on the scale: the root spreads the rare ones out, and 1 stays at the end. */
export function onScale(chance: number): number {
  return Math.round(Math.sqrt(Math.min(1, Math.max(0, chance))) * SCALE_WIDTH * 100) / 100
}

/** The marks of the scale, with the words that stand at them. */
export const SCALE_MARKS = [
  { chance: 0, label: '0' },
  { chance: 0.05, label: '1/20' },
  { chance: 0.2, label: '1/5' },
  { chance: 0.5, label: '1/2' },
  { chance: 1, label: 'sure' },
]

/** Denominators that people say; a chance is told by the nearest of them. */
const SAID = [
  2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 250, 300, 400, 500, 600, 800,
  1000,
]

/**
 * A chance as a frequency: "1 in 5", "7 in 10", "under 1 in 1,000".
 *
 * @param chance from 0 to 1
 * @param inFigures writes a number as the organisation does
 */
export function frequency(chance: number, inFigures: (count: number) => string): string {
  if (chance >= 0.995) return 'as good as certain'
  if (chance >= 0.95) return '19 in 20'
  if (chance >= 0.55) return `${Math.round(chance * 10)} in 10`
  if (chance < 0.00095) return `under\u00a01 in\u00a0${inFigures(1000)}`
  const nearest = SAID.reduce((best, each) => (distance(each, chance) < distance(best, chance) ? each : best))
  return `1 in ${inFigures(nearest)}`
}

/** The same where a sentence goes on with it: "about 1 in 5", "as good as certain". */
export function aboutFrequency(chance: number, inFigures: (count: number) => string): string {
  const words = frequency(chance, inFigures)
  return /^\d/.test(words) ? `about ${words}` : words
}

/** How far 1 in `count` is from a chance, as a ratio. */
const distance = (count: number, chance: number) => Math.abs(Math.log(count * chance))

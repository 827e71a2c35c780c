import { aboutFrequency, frequency } from '@/lib/units/frequency'

/** A chance is said in the same words on a page and in a mail. */
export { aboutFrequency, frequency }

/** The chance with its band in words: "about 1 in 5 (between 1 in 8 and 1 in 3)". */
export function chanceInBand(
  { pFail, pLow, pHigh }: { pFail: number; pLow: number; pHigh: number },
  inFigures: (count: number) => string,
): string {
  const [low, high] = [pLow, pHigh].map((each) => frequency(each, inFigures))
  const about = aboutFrequency(pFail, inFigures)
  return low === high ? about : `${about} (between ${low} and ${high})`
}

/** Of so many alike, how many fail and how many hold. */
export type Halves = { of: number; fail: number; hold: number }

const COUNTED = [10, 20, 50, 100, 1000]
/** Rounding to whole ones may be off by so much of the chance, and no more. */
const ROUNDED_BY = 0.15

/** A chance as both of its halves: "of 10 such, 2 fail, 8 do not"; of the fewest that tell it well. */
export function halves(chance: number): Halves {
  const told = (of: number): Halves => {
    const fail = Math.round(chance * of)
    return { of, fail, hold: of - fail }
  }
  const isWell = ({ of, fail, hold }: Halves) =>
    fail > 0 && hold > 0 && Math.abs(fail / of - chance) <= ROUNDED_BY * Math.min(chance, 1 - chance)
  return COUNTED.map(told).find(isWell) ?? told(COUNTED.at(-1)!)
}

/** What was learned of how often signs are seen, beside what the library states of it. */
import { insideRate } from '@/lib/model/learned-rates'
import type { Family } from '@/lib/records/library'
import type { FamilyRates } from './family-fit'

/** A rate of one sign that was learned. */
export interface LearnedRate {
  sign: string
  /** The cause whose `detect` it is; null for the `leak`: how often the sign shows without any. */
  weakPoint: string | null
  stated: number
  learned: number
}

/**
 * The learned rates of a family's signs, in the order of its library. A rate that no look spoke of stays as stated, to
 * the last digit, and is left out.
 */
export function learnedSigns({ signs }: Family, rates: FamilyRates): LearnedRate[] {
  return signs.flatMap(({ key: sign, causes, leak }) => {
    const learned = rates.get(sign)
    if (!learned) return []
    return [
      ...causes.map(({ weakPoint, detect }) => ({
        sign,
        weakPoint,
        stated: detect,
        learned: learned.detect.get(weakPoint) ?? detect,
      })),
      { sign, weakPoint: null, stated: leak, learned: learned.leak },
    ].filter((rate) => rate.learned !== rate.stated)
  })
}

/** Those that moved farthest from their statement, the farthest first: by the difference of log odds. */
export const farthestMoved = (rates: readonly LearnedRate[]): LearnedRate[] =>
  rates.toSorted((a, b) => distance(b) - distance(a))

const distance = ({ stated, learned }: LearnedRate) => Math.abs(logOdds(learned) - logOdds(stated))

function logOdds(rate: number): number {
  const inside = insideRate(rate)
  return Math.log(inside / (1 - inside))
}

/**
 * How often signs are seen: `detect` (P(seen at a look for it | a cause develops)) and `leak` (P(seen | nothing
 * develops)), as the library states them, or as learned from expected counts under a Beta prior about the statement.
 */
import type { Confidence } from '@/lib/model/elicitation'
import { insideRate, learnedRates } from '@/lib/model/learned-rates'
import type { Family, Sign } from '@/lib/records/library'
import type { FamilyRates, SignRates } from './family-fit'
import type { SignCounts } from './sign-counts'

/**
 * Standard deviation of the log odds of a stated rate, by how sure the author is of the weak point: a convention of
 * the model, not a measurement.
 */
export const RATE_SPREAD: Record<Confidence, number> = { hunch: 1, experience: 0.6, documented: 0.3 }

const LOOSEST_FIRST: Confidence[] = ['hunch', 'experience', 'documented']

/** @param isKnown whether some life of a weak point ended in a state that somebody noted */
export function learnRates(
  family: Family,
  counts: SignCounts,
  isKnown: (weakPoint: string) => boolean,
): FamilyRates {
  const grades = new Map(family.weakPoints.map(({ key, confidence }) => [key, confidence]))
  const signs = family.signs.flatMap((sign) => {
    const causes = sign.causes.filter(({ weakPoint }) => isKnown(weakPoint))
    return causes.length > 0 ? [{ sign, causes }] : []
  })
  const rates = learnedRates(
    signs.flatMap(({ sign, causes }) => [
      { stated: sign.leak, spread: leakSpread(sign, grades), ...counts.leak(sign.key) },
      ...causes.map(({ weakPoint, detect }) => ({
        stated: detect,
        spread: RATE_SPREAD[grades.get(weakPoint)!],
        ...counts.detect(sign.key, weakPoint),
      })),
    ]),
  ).values()
  const next = () => rates.next().value!
  return new Map(
    signs.map(({ sign, causes }) => [
      sign.key,
      { leak: next(), detect: new Map(causes.map(({ weakPoint }) => [weakPoint, next()])) },
    ]),
  )
}

/** Nobody is asked how sure they are of a leak: as sure as of the cause of which they are least sure. */
function leakSpread({ causes }: Sign, grades: Map<string, Confidence>): number {
  const loosest = LOOSEST_FIRST.find((grade) => causes.some((c) => grades.get(c.weakPoint) === grade))
  return RATE_SPREAD[loosest ?? 'experience']
}

/** The family as if its library stated what was learned of its signs. */
export function withRates(family: Family, rates: FamilyRates): Family {
  if (rates.size === 0) return family
  const signs = family.signs.map((sign) => {
    const learned = rates.get(sign.key)
    if (!learned) return sign
    const causes = sign.causes.map((cause) => ({
      ...cause,
      detect: learned.detect.get(cause.weakPoint) ?? cause.detect,
    }))
    return { ...sign, leak: learned.leak, causes }
  })
  return { ...family, signs }
}

/**
 * How much further than it went a step is taken that others follow. Expectation steps fall short where causes share a
 * sign; up to twice their length they still end at the same place (Peters & Walker 1978). Measured: this saves a round.
 */
const STRIDE = 1.6

/** Rates learned from a statement, and further in the same direction: to begin another round from. */
export function furtherFrom(family: Family, learned: FamilyRates): FamilyRates {
  const signs = family.signs.flatMap((sign): [string, SignRates][] => {
    const rates = learned.get(sign.key)
    if (!rates) return []
    const detect = sign.causes.flatMap(({ weakPoint, detect: stated }) => {
      const rate = rates.detect.get(weakPoint)
      return rate === undefined ? [] : [[weakPoint, further(stated, rate)] as const]
    })
    return [[sign.key, { leak: further(sign.leak, rates.leak), detect: new Map(detect) }]]
  })
  return new Map(signs)
}

function further(stated: number, learned: number): number {
  if (learned === stated) return stated
  const from = logOdds(insideRate(stated))
  return 1 / (1 + Math.exp(-from - STRIDE * (logOdds(learned) - from)))
}

const logOdds = (rate: number) => Math.log(rate / (1 - rate))

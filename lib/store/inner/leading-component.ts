import { ADVICE } from '@/lib/decisions/advice'
import type { ComponentScore } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import { nameComponent } from './component-names'
import type { Leading } from './score-tables'

/**
 * The component that leads a vehicle's row at one horizon: the one with the most urgent advice, and of those the one
 * with the greatest chance.
 *
 * @param family the key of the vehicle's engine family in `library`
 */
export function leadingComponent(
  components: ComponentScore[],
  family: string,
  library: Library,
): Partial<Leading> {
  const urgency = (score: ComponentScore) => ADVICE.indexOf(score.advice)
  const [first] = components.toSorted((a, b) => urgency(a) - urgency(b) || b.pFail - a.pFail)
  if (!first) return {}
  const { name, place } = nameComponent(first.weakPoint, family, library)
  return {
    leadingWeakPoint: first.weakPoint,
    leadingName: name,
    leadingPosition: first.position,
    leadingPlace: place,
    pFail: first.pFail,
    pLow: first.pLow,
    pHigh: first.pHigh,
    costOfWaiting: first.costOfWaiting,
    speaks: first.speaks,
  }
}

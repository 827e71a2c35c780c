import { ADVICE } from '@/lib/decisions/advice'
import type { ComponentScore } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
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
  const engine = library.families.find(({ key }) => key === family)
  const weakPoint = engine?.weakPoints.find(({ key }) => key === first.weakPoint)
  return {
    leadingWeakPoint: first.weakPoint,
    leadingName: weakPoint?.component ?? first.weakPoint,
    leadingPosition: first.position,
    leadingPlace: placeKind(weakPoint?.positions ?? 1, engine?.cylinders ?? 1),
    pFail: first.pFail,
    pLow: first.pLow,
    pHigh: first.pHigh,
    costOfWaiting: first.costOfWaiting,
    speaks: first.speaks,
  }
}

/** What a position of a weak point is: there is one of it, one a cylinder, one a bank, or several of another kind. */
function placeKind(positions: number, cylinders: number): string | null {
  if (positions === 1) return null
  if (positions === cylinders) return 'cylinder'
  return positions === 2 ? 'bank' : 'position'
}

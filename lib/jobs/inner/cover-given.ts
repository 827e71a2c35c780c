import type { AdviceGround } from '@/lib/decisions/advice'
import type { Cover, SetAsideTerms } from '@/lib/decisions/set-aside'
import type { VehicleRow } from '@/lib/records/rows'
import type { CoverTerms } from '@/lib/store/read/cover-terms'

/** A cover where nobody has said one. A convention, without a source. */
export const USUAL_COVER: Cover = { days: 365, km: 15_000 }

export type CoverGiven = SetAsideTerms & { coverOf: 'vehicle' | 'terms' | 'usual' }

/**
 * What a vehicle's cover gives from now on: until the end that it was sold with; else for as long as its terms say; else
 * the usual one. What is left out, and how much is paid for one failure, is as its terms say in any case.
 */
export function coverGiven(vehicle: VehicleRow, ground: AdviceGround, terms: CoverTerms | null): CoverGiven {
  const also = { excluded: new Set(terms?.excluded), claimLimit: terms?.claimLimit ?? null }
  const left = coverLeft(vehicle, ground)
  if (left) return { cover: left, ...also, coverOf: 'vehicle' }
  if (terms?.days != null) return { cover: { days: terms.days, km: terms.km }, ...also, coverOf: 'terms' }
  return { cover: USUAL_COVER, ...also, coverOf: 'usual' }
}

/** What is left of a sold vehicle's cover; null where it has none that ends on a day. */
function coverLeft({ coverUntilOn, coverUntilKm }: VehicleRow, { clock }: AdviceGround): Cover | null {
  const { asOf } = clock
  if (coverUntilOn === null || coverUntilOn <= asOf) return null
  const km = coverUntilKm === null ? null : coverUntilKm - clock.kmAt(asOf)
  return { days: coverUntilOn - asOf, km: km === null ? null : Math.max(km, 0) }
}

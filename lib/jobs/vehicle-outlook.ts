import type { ComponentScore } from '@/lib/decisions/score-fleet'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { scoreVehicle } from './score-vehicle'

/** A component's chance of failing within so many months from today if nothing is done. */
export type OutlookPoint = { months: number } & Pick<ComponentScore, 'pFail' | 'pLow' | 'pHigh'>

const MONTHS = Array.from({ length: 12 }, (_, i) => i + 1)
const DAYS_PER_YEAR = 365
const daysOf = (months: number) => Math.round((months * DAYS_PER_YEAR) / 12)

/**
 * The chances of one component over the coming twelve months, scored anew from the vehicle's records.
 *
 * @param now the present instant
 * @returns none for a vehicle that is not scored
 */
export async function vehicleOutlook(
  scope: OrganisationScope,
  { unit, weakPoint, position }: { unit: string; weakPoint: string; position: number },
  now: Date,
): Promise<OutlookPoint[]> {
  const horizons = MONTHS.map((months) => ({ days: daysOf(months) }))
  const scores = await scoreVehicle(scope, { unit, horizons }, now)
  const own = scores.filter((each) => each.weakPoint === weakPoint && each.position === position)
  return MONTHS.flatMap((months) => {
    const at = own.find(({ horizonDays }) => horizonDays === daysOf(months))
    return at ? [{ months, pFail: at.pFail, pLow: at.pLow, pHigh: at.pHigh }] : []
  })
}

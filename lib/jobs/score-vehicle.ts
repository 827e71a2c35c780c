import { type ComponentScore, isScored, odometerOf, VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { Horizon } from '@/lib/scoring/ahead'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readRecords } from '@/lib/store/read/records'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'

/**
 * Scores one vehicle anew from its records, as of today, for horizons of which no scores need be kept. Its class is used
 * as was last found out: bring the organisation's scores up to date first.
 *
 * @param now the present instant
 * @returns one score a component and horizon; none for a vehicle that is not scored
 */
export async function scoreVehicle(
  scope: OrganisationScope,
  { unit, horizons }: { unit: string; horizons: readonly Horizon[] },
  { library, now }: { library: Library; now: Date },
): Promise<ComponentScore[]> {
  const [records, classRate] = [await readRecords(scope, [unit]), await readClassRate(scope, unit)]
  const [vehicle] = groupByVehicle(records)
  const asOf = dayIn(records.settings.timeZone, now)
  if (!vehicle || !classRate) return []
  const odometer = odometerOf(vehicle, asOf)
  if (!isScored(vehicle, odometer, asOf)) return []
  const scorer = new VehicleScorer({ library, settings: records.settings, asOf, horizons })
  return scorer.score(vehicle, odometer, classRate).components
}

import type { RecordLists } from '@/lib/intake/tables'
import { classRates } from '@/lib/records/usage'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import { readRateOfClass } from '@/lib/store/read/rate-of-class'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { faultOn, type VehicleFault } from './find-fault'
import { scorerOn } from './inner/scorer-on'

/**
 * In which order to look for the fault of a vehicle that is not on record, from what was said of it. Nothing is stored:
 * the records are those that would be entered if it were kept.
 *
 * @param records of one vehicle
 * @param spendingLimit what may be spent, from here on, before somebody is asked; null: no limit
 * @param now the present instant
 * @returns null where there is no library, or it does not know the engine
 */
export async function faultUnrecorded(
  scope: OrganisationScope,
  { records, spendingLimit }: { records: RecordLists; spendingLimit: number | null },
  now: Date,
): Promise<VehicleFault | null> {
  const scoring = await readScoringGround(scope, now)
  const [vehicle] = scoring ? groupByVehicle(records) : []
  if (!scoring || !vehicle) return null
  const { scorers } = await scorerOn(scope, scoring)
  const classRate = (await readRateOfClass(scope, vehicle.vehicle)) ?? classRates([]).fleet
  const odometer = odometerOf(vehicle, scoring.asOf)
  const ground = scorers.inForce.groundOf({ records: vehicle, odometer, classRate })
  return ground && faultOn(ground, spendingLimit)
}

import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import { swappedWith } from '@/lib/records/swapped-vehicle'
import { type Odometer, trustOdometer } from '@/lib/records/trusted-odometer'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import { readRecords } from '@/lib/store/read/records'
import { readUnitsNear } from '@/lib/store/read/units-near'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'

/** So many of the latest readings that nothing explains are held against the other vehicles. */
const MOST_ASKED = 10

/**
 * A vehicle's odometer as of a day. A reading that nothing of its own explains is held against the organisation's other
 * vehicles: it may have been booked on the wrong one.
 */
export async function vehicleOdometer(
  scope: OrganisationScope,
  records: VehicleRecords,
  asOf: Day,
): Promise<Odometer> {
  const options = { capKmPerDay: ODOMETER_SETTINGS.capKmPerDay, upTo: asOf }
  const alone = trustOdometer(records, options)
  const open = alone.points.filter(({ cause }) => cause === 'unexplained').slice(-MOST_ASKED)
  if (open.length === 0) return alone
  const { unit } = records.vehicle
  const near = await readUnitsNear(scope, unit, open)
  if (near.length === 0) return alone
  const others = groupByVehicle(await readRecords(scope, near))
  const fleet = new Map(others.map((one) => [one.vehicle.unit, trustOdometer(one, options)]))
  return trustOdometer(records, { ...options, fitsAnother: swappedWith(fleet, unit) })
}

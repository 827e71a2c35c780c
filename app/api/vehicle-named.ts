import type { VehicleRow } from '@/lib/records/rows'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { Problem } from './problem'

/**
 * The vehicle that an address names.
 *
 * @throws Problem `not-found` where the organisation has none of that number
 */
export async function vehicleNamed(scope: OrganisationScope, unit = ''): Promise<VehicleRow> {
  const isText = !unit.includes('\0') // the database knows no other
  const found = isText ? await readVehicleRows(scope, { unit, after: null, limit: 1 }) : { vehicles: [] }
  const [vehicle] = found.vehicles
  if (!vehicle) throw new Problem('not-found', 'There is no vehicle of that number')
  return vehicle
}

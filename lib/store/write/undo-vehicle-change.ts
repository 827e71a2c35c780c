import type { VehicleRow } from '@/lib/records/rows'
import { lockOrganisation } from '../inner/locks'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows } from '../inner/vehicle-rows'
import type { OrganisationScope } from '../with-organisation'
import type { VehicleActResult } from './change-vehicle'
import { takeBackEntry } from './take-back-entry'

/** What one person changed of one vehicle at one instant. */
export type VehicleChangeMade = { unit: string; changedAt: Date; by: string }

type Version = { before: VehicleRow | null; isLast: boolean }

/**
 * Lets a vehicle say again what it said before a change, and withdraws what the change entered. What it says now is
 * kept as a version in its turn. Where somebody has changed the vehicle since, nothing is done.
 */
export async function undoVehicleChange(
  scope: OrganisationScope,
  made: VehicleChangeMade,
  now: Date,
): Promise<VehicleActResult> {
  const { unit, changedAt, by } = made
  await lockOrganisation(scope, 'records')
  const [held] = await holdVehicles(scope, [unit])
  if (!held || held.withdrawn) return { ok: false, reason: 'not-found' }
  const [version] = await scope.tx.$queryRaw<Version[]>`
    select before, not exists (select from vehicle_versions later where later.vehicle_id = version.vehicle_id
      and later.replaced_at > version.replaced_at) as "isLast"
    from vehicle_versions version
    where vehicle_id = ${held.id}::uuid and replaced_at = ${changedAt} and replaced_by = ${by}::uuid
      and intake_id is null`
  if (version && !version.isLast) return { ok: false, reason: 'changed-since' }
  const entered = await takeBackEntry(scope, { unit, enteredAt: changedAt, by }, now)
  if (version?.before)
    await replaceVehicleRows(scope, [{ id: held.id, before: held.row, row: version.before }], { now, by })
  const touched = version?.before ? [unit] : entered.touched
  await touchVehicles(scope, touched)
  return { ok: true, touched }
}

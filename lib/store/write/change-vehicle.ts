import { isDeepStrictEqual } from 'node:util'
import type { ChangeRow, VehicleRow } from '@/lib/records/rows'
import { addRecordRows } from '../inner/add-record-rows'
import { lockOrganisation } from '../inner/locks'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows } from '../inner/vehicle-rows'
import type { OrganisationScope } from '../with-organisation'

/** What becomes of a vehicle: facts that take the place of those that stand, a null too, and what goes on record. */
export type VehicleAct = {
  unit: string
  facts: Partial<Omit<VehicleRow, 'unit'>>
  changes?: ChangeRow[]
  now: Date
  by: string | null
}

/** What came of it, and the vehicles that it touches; none where it is on record like that. */
export type VehicleActResult =
  | { ok: true; touched: string[] }
  | { ok: false; reason: 'not-found' | 'changed-since' }

/**
 * Changes what stands of a vehicle, and enters changes of it at the same instant. What stood is kept as a version, to
 * which `undoVehicleChange` leads back.
 */
export async function changeVehicle(
  scope: OrganisationScope,
  { unit, facts, changes = [], now, by }: VehicleAct,
): Promise<VehicleActResult> {
  await lockOrganisation(scope, 'records')
  const [held] = await holdVehicles(scope, [unit])
  if (!held || held.withdrawn) return { ok: false, reason: 'not-found' }
  const row = { ...held.row, ...facts }
  const isOther = !isDeepStrictEqual(row, held.row)
  if (isOther) await replaceVehicleRows(scope, [{ id: held.id, before: held.row, row }], { now, by })
  const added = await addRecordRows(scope, 'changes', changes, { now, by })
  const touched = isOther || added.touched.length > 0 ? [unit] : []
  await touchVehicles(scope, touched)
  return { ok: true, touched }
}

import type { OrganisationScope } from '../with-organisation'
import { readMergedInto } from './merged-into'

/** What a label is checked by, and the vehicle that it hangs on now. */
export type LabelToCheck = { secret: Uint8Array; unit: string; organisationName: string }

/** A label that works, of a vehicle that is there or was made one with another that is; null for none. */
export async function readLabelToCheck(scope: OrganisationScope, id: string): Promise<LabelToCheck | null> {
  const { tx, organisation } = scope
  const [found] = await tx.$queryRaw<(LabelToCheck & { gone: boolean })[]>`
    select label.secret, vehicle.unit, vehicle.withdrawn_at is not null as gone, organisations.name as "organisationName"
    from vehicle_labels label join vehicles vehicle on vehicle.id = label.vehicle_id
      join organisations on organisations.id = ${organisation}::uuid
    where label.id = ${id}::uuid and label.ended_at is null`
  if (!found) return null
  const { gone, ...label } = found
  if (!gone) return label
  const into = await readMergedInto(scope, label.unit)
  return into === null ? null : { ...label, unit: into }
}

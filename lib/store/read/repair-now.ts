import { z } from 'zod'
import type { OrganisationScope } from '../with-organisation'

const UUID = z.uuid()

/**
 * The version of a repair that counts now, and whose it is, after it was corrected or its vehicle made one with another.
 *
 * @param id of any version of it, as it stands in an address: any text
 * @returns null where none of them counts
 */
export async function readRepairNow(
  { tx }: OrganisationScope,
  id: string,
): Promise<{ id: string; unit: string } | null> {
  if (!UUID.safeParse(id).success) return null
  const [found] = await tx.$queryRaw<{ id: string; unit: string }[]>`
    with recursive later as (
      select id, superseded_by from repairs where id = ${id}::uuid
      union
      select next.id, next.superseded_by from repairs next join later on next.id = later.superseded_by)
    select repair.id::text, vehicle.unit
    from later join repairs repair on repair.id = later.id join vehicles vehicle on vehicle.id = repair.vehicle_id
    where repair.superseded_at is null and repair.withdrawn_at is null and vehicle.withdrawn_at is null
    limit 1`
  return found ?? null
}

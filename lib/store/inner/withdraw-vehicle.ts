import type { OrganisationScope } from '../with-organisation'
import type { StoredVehicle } from './vehicle-rows'

/** Takes a vehicle that is held out of what counts, with its scores. Its row stays, and can be brought back. */
export async function withdrawVehicle(
  { tx }: OrganisationScope,
  { id }: Pick<StoredVehicle, 'id'>,
  { now, by }: { now: Date; by: string | null },
): Promise<void> {
  await tx.$executeRaw`
    update vehicles set withdrawn_at = ${now}, withdrawn_by = ${by}::uuid where id = ${id}::uuid`
  await tx.$executeRaw`delete from component_scores where vehicle_id = ${id}::uuid`
  await tx.$executeRaw`delete from vehicle_scores where vehicle_id = ${id}::uuid`
}

/** Whether a stop of a vehicle stands that nobody has released: whoever must not drive has to be found by its number. */
export async function hasOpenStop(
  { tx }: OrganisationScope,
  { id }: Pick<StoredVehicle, 'id'>,
): Promise<boolean> {
  const [found] = await tx.$queryRaw<{ open: boolean }[]>`
    select exists (select from stop_notices where vehicle_id = ${id}::uuid and released_at is null) as open`
  return found?.open ?? false
}

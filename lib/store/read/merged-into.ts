import type { OrganisationScope } from '../with-organisation'

/**
 * Where a vehicle is that was made one with another: both were changed at one instant, and this one withdrawn. The other
 * may have been made one with a third since.
 *
 * @param unit a number that no vehicle has any more
 * @returns the number of the one that is there; null where there was no such vehicle, or it was never made one with another
 */
export async function readMergedInto({ tx }: OrganisationScope, unit: string): Promise<string | null> {
  const [found] = await tx.$queryRaw<{ into: string }[]>`
    with recursive way as (
      select id, withdrawn_at, 0 as steps from vehicles where unit = ${unit} and withdrawn_at is not null
      union
      select vehicle.id, vehicle.withdrawn_at, way.steps + 1
      from way
        join vehicle_versions version on version.replaced_at = way.withdrawn_at and version.intake_id is null
        join vehicles vehicle on vehicle.id = version.vehicle_id and vehicle.id <> way.id
      where way.withdrawn_at is not null
        and (vehicle.withdrawn_at is null or vehicle.withdrawn_at > way.withdrawn_at))
    select vehicle.unit as into from way join vehicles vehicle on vehicle.id = way.id
    where way.withdrawn_at is null order by way.steps limit 1`
  return found?.into ?? null
}

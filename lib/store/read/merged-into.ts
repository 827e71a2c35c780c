import type { OrganisationScope } from '../with-organisation'

/**
 * Where a vehicle is that was made one with another: both were changed at one instant, and this one withdrawn.
 *
 * @param unit a number that no vehicle has any more
 * @returns the other's number; null where there was no such vehicle, or it was never made one with another
 */
export async function readMergedInto({ tx }: OrganisationScope, unit: string): Promise<string | null> {
  const [found] = await tx.$queryRaw<{ into: string }[]>`
    select vehicle.unit as into
    from vehicles gone
      join vehicle_versions version on version.replaced_at = gone.withdrawn_at and version.intake_id is null
      join vehicles vehicle on vehicle.id = version.vehicle_id and vehicle.id <> gone.id
    where gone.unit = ${unit} and gone.withdrawn_at is not null and vehicle.withdrawn_at is null
    order by gone.withdrawn_at desc limit 1`
  return found?.into ?? null
}

import type { OrganisationScope } from '../with-organisation'

/** A vehicle that was made one with another, when and by whom (an id; null where no person did it). */
export type MergedVehicle = { other: string; mergedAt: Date; by: string | null }

/** What was made one with a vehicle, the latest first: both were changed at one instant, one of them withdrawn. */
export async function readMergedVehicles({ tx }: OrganisationScope, unit: string): Promise<MergedVehicle[]> {
  return tx.$queryRaw<MergedVehicle[]>`
    select other.unit as other, other.withdrawn_at as "mergedAt", other.withdrawn_by::text as by
    from vehicles vehicle
      join vehicle_versions version on version.vehicle_id = vehicle.id and version.intake_id is null
      join vehicles other on other.withdrawn_at = version.replaced_at and other.id <> vehicle.id
    where vehicle.unit = ${unit} and vehicle.withdrawn_at is null
    order by other.withdrawn_at desc, other.unit`
}

import type { OrganisationScope } from '../with-organisation'

/** A vehicle that records may speak of. */
export type StandingVehicle = { unit: string; family: string }

/**
 * The vehicles that are there, whatever their status.
 *
 * @param units those of them that are meant; every one where it is left out
 */
export async function readStandingVehicles(
  { tx }: OrganisationScope,
  units: readonly string[] | null = null,
): Promise<StandingVehicle[]> {
  return tx.$queryRaw<StandingVehicle[]>`
    select unit, family from vehicles
    where withdrawn_at is null and (${units}::text[] is null or unit = any(${units}::text[]))`
}

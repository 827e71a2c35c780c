import type { OrganisationScope } from '../with-organisation'

/**
 * The vehicles that records may speak of, each with the engine family that it stands with.
 *
 * @param units those of them that are meant; every one where it is left out
 */
export async function readStandingVehicles(
  { tx }: OrganisationScope,
  units: readonly string[] | null = null,
): Promise<{ unit: string; family: string }[]> {
  return tx.$queryRaw<{ unit: string; family: string }[]>`
    select unit, family from vehicles
    where withdrawn_at is null and (${units}::text[] is null or unit = any(${units}::text[]))`
}

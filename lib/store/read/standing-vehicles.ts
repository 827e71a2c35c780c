import type { OrganisationScope } from '../with-organisation'

/** A vehicle that is there, as far as rows speak of it. */
export type StandingVehicle = {
  unit: string
  family: string
  plate: string | null
  vin: string | null
  watchedFromKm: number | null
}

/**
 * The vehicles that records may speak of, each with the engine family that it stands with.
 *
 * @param units those of them that are meant; every one where it is left out
 */
export async function readStandingVehicles(
  { tx }: OrganisationScope,
  units: readonly string[] | null = null,
): Promise<StandingVehicle[]> {
  return tx.$queryRaw<StandingVehicle[]>`
    select unit, family, plate, vin, watched_from_km as "watchedFromKm" from vehicles
    where withdrawn_at is null and (${units}::text[] is null or unit = any(${units}::text[]))`
}

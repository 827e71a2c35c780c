import type { ClassRate } from '@/lib/records/usage'
import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/** A vehicle that is to be scored: what its score will rest on. */
export type StaleVehicle = {
  unit: string
  recordsVersion: bigint
  scoredFrom: string
  /** How its class is used; null where nobody has found out yet. */
  classRate: ClassRate | null
}

/** Vehicles whose scores do not rest on what is there now. @param units among these; all where it is left out */
export async function readStaleVehicles(
  { tx }: OrganisationScope,
  ground: ScoringGround,
  { limit, units = null }: { limit: number; units?: string[] | null },
): Promise<StaleVehicle[]> {
  return tx.$queryRawUnsafe<StaleVehicle[]>(
    `select vehicle.unit, vehicle.records_version as "recordsVersion", ${BASIS} as "scoredFrom",
       coalesce(own_class.rates, whole_fleet.rates) as "classRate"
     from ${WITH_CLASS_RATE}
     where ${IS_STALE} and ($2::text[] is null or vehicle.unit = any($2::text[])) order by vehicle.id limit $3::int`,
    ground.text,
    units,
    limit,
  )
}

/** How many they are. */
export async function countStaleVehicles({ tx }: OrganisationScope, ground: ScoringGround): Promise<number> {
  const [found] = await tx.$queryRawUnsafe<{ count: number }[]>(
    `select count(*)::int as count from ${WITH_CLASS_RATE} where ${IS_STALE}`,
    ground.text,
  )
  return found?.count ?? 0
}

const IS_STALE = `vehicle.withdrawn_at is null and vehicle.scored_from is distinct from ${BASIS}`

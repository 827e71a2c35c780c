import type { ScoredLook, UnlitPart } from '@/lib/decisions/scored-looks'
import type { Library } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import { nameComponent, type Place } from '../inner/component-names'
import type { Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'
import { readKnownLibrary } from './known-library'

/** A vehicle as far as somebody who looks at it asks. */
export type LookedAtVehicle = {
  unit: string
  plate: string | null
  family: string
  familyKey: string
  site: string | null
  customer: string | null
  standing: Standing
  asOf: Day
  lastFullScanOn: Day | null
  lastLookedAtOn: Day | null
  /** Its records have changed since: it is being scored again. */
  stale: boolean
}

/** What a look could move, by its name. */
export type LookMove = ScoredLook['moves'][number] & { name: string; place: Place }

/** A vehicle with the looks at it that are worth making. */
export type VehicleLooks = LookedAtVehicle & { looks: (Omit<ScoredLook, 'moves'> & { moves: LookMove[] })[] }

/** A vehicle that was not scanned for long, with the likeliest to be going of what lights no lamp. */
export type UnscannedVehicle = LookedAtVehicle & { unlit: UnlitPart & { name: string; place: Place } }

const EPOCH = Prisma.sql`date '1970-01-01'`
const VEHICLE = Prisma.sql`score.unit, vehicle.plate, score.family_name as family, score.family as "familyKey",
  score.site, score.customer, case when score.assessed then score.advice else 'not-assessed' end as standing,
  score.as_of - ${EPOCH} as "asOf", score.last_full_scan_on - ${EPOCH} as "lastFullScanOn",
  score.last_looked_at_on - ${EPOCH} as "lastLookedAtOn",
  vehicle.records_version <> score.records_version as stale`
const FROM = Prisma.sql`vehicle_scores score
  join vehicles vehicle on vehicle.organisation_id = score.organisation_id and vehicle.id = score.vehicle_id`

/** Every vehicle at which some look is worth making, by its number; of some vehicles, or of all. */
export async function readLooksWorthMaking(
  scope: OrganisationScope,
  units: readonly string[] | null = null,
): Promise<VehicleLooks[]> {
  const found = await scope.tx.$queryRaw<(LookedAtVehicle & { looks: ScoredLook[] })[]>`
    select ${VEHICLE}, score.looks->'worthwhile' as looks
    from ${FROM}
    where score.horizon_days = ${HISTORY_HORIZON_DAYS} and jsonb_array_length(score.looks->'worthwhile') > 0
      ${units === null ? Prisma.empty : Prisma.sql`and vehicle.unit = any(${units}::text[])`}
    order by score.number_key collate "C", score.unit collate "C"`
  const library = await namesIn(scope, found.length)
  return found.map((vehicle) => ({
    ...vehicle,
    looks: vehicle.looks.map((look) => ({
      ...look,
      moves: look.moves.map((move) => ({ ...move, ...named(move.weakPoint, vehicle, library) })),
    })),
  }))
}

/** What of the vehicles without a scan is told, and in which order. */
export type UnscannedQuery = {
  /** Without a full scan for more days than these. */
  days: number
  sites: readonly string[]
  sort: 'going' | 'scan' | 'unit' | 'site'
  descending: boolean
  limit: number
}

/**
 * Vehicles without a full scan for long of which some part leaves a code and lights no lamp, and how many there are.
 * Never scanned is longest ago.
 */
export async function readUnscanned(
  scope: OrganisationScope,
  { days, sites, sort, descending, limit }: UnscannedQuery,
): Promise<{ vehicles: UnscannedVehicle[]; total: number }> {
  const by = {
    going: Prisma.sql`(score.looks->'unlit'->>'pDeveloping')::float8`,
    scan: Prisma.sql`coalesce(score.as_of - score.last_full_scan_on, 2147483647)`,
    unit: Prisma.sql`score.number_key collate "C"`,
    site: Prisma.sql`coalesce(score.site, score.customer) collate "C"`,
  }[sort]
  const found = await scope.tx.$queryRaw<(LookedAtVehicle & { unlit: UnlitPart; total: number })[]>`
    select ${VEHICLE}, score.looks->'unlit' as unlit, (count(*) over ())::int as total
    from ${FROM}
    where score.horizon_days = ${HISTORY_HORIZON_DAYS} and jsonb_typeof(score.looks->'unlit') = 'object'
      and (score.last_full_scan_on is null or score.as_of - score.last_full_scan_on > ${days}::int)
      and (${sites.length}::int = 0 or score.site = any(${sites}::text[]))
    order by ${by} ${descending ? Prisma.sql`desc nulls last` : Prisma.sql`asc nulls last`}, score.number_key collate "C", score.unit collate "C"
    limit ${limit}`
  const library = await namesIn(scope, found.length)
  const vehicles = found.map(({ total: _, ...vehicle }) => ({
    ...vehicle,
    unlit: { ...vehicle.unlit, ...named(vehicle.unlit.weakPoint, vehicle, library) },
  }))
  return { vehicles, total: found[0]?.total ?? 0 }
}

/** Whether there is anything to go by: how many vehicles are scored, and as of which day. */
export async function readLookedAt({
  tx,
}: OrganisationScope): Promise<{ assessed: number; neverLookedAt: number; asOf: Day | null }> {
  const [found] = await tx.$queryRaw<{ assessed: number; neverLookedAt: number; asOf: Day | null }[]>`
    select (count(*) filter (where assessed))::int as assessed,
      (count(*) filter (where assessed and last_looked_at_on is null))::int as "neverLookedAt",
      max(as_of) - ${EPOCH} as "asOf"
    from vehicle_scores where horizon_days = ${HISTORY_HORIZON_DAYS}`
  return found ?? { assessed: 0, neverLookedAt: 0, asOf: null }
}

const namesIn = async (scope: OrganisationScope, found: number): Promise<Library | null> =>
  found === 0 ? null : ((await readKnownLibrary(scope))?.library ?? null)

const named = (weakPoint: string, { familyKey }: LookedAtVehicle, library: Library | null) =>
  library === null ? { name: weakPoint, place: null } : nameComponent(weakPoint, familyKey, library)

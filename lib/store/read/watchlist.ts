import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import type { Place } from '../inner/component-names'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'
import type { WatchlistColumn, WatchlistQuery } from './watchlist-query'

/** A vehicle on the watchlist: its latest score at one horizon, and the component that leads it. */
export type WatchlistRow = {
  unit: string
  plate: string | null
  family: string
  site: string | null
  customer: string | null
  standing: Standing
  asOf: Day
  odometerKm: number | null
  odometerReadOn: Day | null
  odometerEstimated: boolean
  combined: number | null
  weakPoint: string | null
  position: number | null
  place: Place
  pFail: number | null
  pLow: number | null
  pHigh: number | null
  costOfWaiting: number | null
  speaks: string | null
  lastFullScanOn: Day | null
  lastLookedAtOn: Day | null
  weakPointsCovered: number
}

type SortKey = { by: Prisma.Sql; lastAlways?: boolean }

const STANDING = Prisma.sql`case when score.assessed then score.advice else 'not-assessed' end`
const EPOCH = Prisma.sql`date '1970-01-01'`

/** A number within a vehicle's number counts as one: B-2 comes before B-10. */
const UNIT_KEYS: SortKey[] = [
  { by: Prisma.sql`substring(vehicle.unit from '^\\D*')` },
  { by: Prisma.sql`substring(vehicle.unit from '\\d{1,18}')::bigint`, lastAlways: true },
  { by: Prisma.sql`vehicle.unit` },
]

const one = (by: Prisma.Sql): SortKey[] => [{ by, lastAlways: true }]

/** What each column sorts by. What is not known comes last in both directions; never scanned is longest ago. */
const SORT_KEYS: Record<WatchlistColumn, SortKey[]> = {
  unit: UNIT_KEYS,
  advice: one(Prisma.sql`array_position(${STANDINGS}::text[], ${STANDING})`),
  weakPoint: [...one(Prisma.sql`lower(score.leading_name)`), ...one(Prisma.sql`score.leading_position`)],
  chance: one(Prisma.sql`score.p_fail`),
  speaks: one(Prisma.sql`lower(score.speaks)`),
  waiting: one(Prisma.sql`score.cost_of_waiting`),
  engine: one(Prisma.sql`lower(score.family_name)`),
  site: one(Prisma.sql`lower(coalesce(vehicle.site, vehicle.customer))`),
  odometer: one(Prisma.sql`score.odometer_km`),
  scan: [{ by: Prisma.sql`score.as_of - score.last_full_scan_on` }],
}

/** Rows that are equal in the sorted column stand by cost of waiting, and then by vehicle number. */
function orderBy(column: WatchlistColumn, descending: boolean): Prisma.Sql {
  const direction = descending ? Prisma.sql`desc` : Prisma.sql`asc`
  const sorted = SORT_KEYS[column].map(({ by, lastAlways }) =>
    lastAlways ? Prisma.sql`${by} ${direction} nulls last` : Prisma.sql`${by} ${direction}`,
  )
  const ties = [Prisma.sql`score.cost_of_waiting desc nulls last`, ...UNIT_KEYS.map(({ by }) => by)]
  return Prisma.join([...sorted, ...ties], ', ')
}

/** The vehicles that a query asks for, in its order. */
export async function readWatchlist(
  { tx }: OrganisationScope,
  query: WatchlistQuery,
): Promise<WatchlistRow[]> {
  const words = query.search.toLowerCase().split(/\s+/).filter(Boolean)
  return tx.$queryRaw<WatchlistRow[]>`
    select vehicle.unit, vehicle.plate, score.family_name as family, vehicle.site, vehicle.customer,
      ${STANDING} as standing, score.as_of - ${EPOCH} as "asOf",
      score.odometer_km as "odometerKm", score.odometer_read_on - ${EPOCH} as "odometerReadOn",
      score.odometer_estimated as "odometerEstimated", score.combined,
      score.leading_name as "weakPoint", score.leading_position as position, score.leading_place as place,
      score.p_fail as "pFail", score.p_low as "pLow", score.p_high as "pHigh",
      score.cost_of_waiting as "costOfWaiting", score.speaks,
      score.last_full_scan_on - ${EPOCH} as "lastFullScanOn",
      score.last_looked_at_on - ${EPOCH} as "lastLookedAtOn",
      score.weak_points_covered as "weakPointsCovered"
    from vehicle_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
    where score.horizon_days = ${query.horizonDays}
      and (${query.unit ?? null}::text is null or vehicle.unit = ${query.unit ?? null})
      and (cardinality(${query.standings}::text[]) = 0 or ${STANDING} = any(${query.standings}::text[]))
      and not exists (
        select from unnest(${words}::text[]) word
        where strpos(lower(concat_ws(' ', vehicle.unit, vehicle.plate, vehicle.site, vehicle.customer,
          score.family_name, score.leading_name, score.speaks)), word) = 0)
    order by ${orderBy(query.sort, query.descending)}`
}

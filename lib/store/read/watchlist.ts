import type { Advice } from '@/lib/decisions/advice'
import type { Library } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import { nameComponent, type Place } from '../inner/component-names'
import {
  changesSince,
  conditions,
  namedComponents,
  orderOf,
  rowsFrom,
  sourceOf,
} from '../inner/watchlist-sql'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'
import { readKnownLibrary } from './known-library'
import type { Change, VehicleStatus, WatchlistQuery } from './watchlist-query'

/** What has become of a row since a day: which weak point, as it was then and as it is now. */
export type WhatChanged = {
  kind: Change
  weakPoint: string
  position: number
  place: Place
  wasAdvice: Advice
  wasPFail: number
  advice: Advice
  pFail: number
}

/** A row of the watchlist: a vehicle led by one of its components, or that component alone, at one horizon. */
export type WatchlistRow = {
  unit: string
  plate: string | null
  family: string
  site: string | null
  customer: string | null
  contact: string | null
  status: VehicleStatus
  history: 'full' | 'none'
  value: number | null
  askingPrice: number | null
  /** Days since it was bought for stock; null where it is not in stock, or the day is not on record. */
  daysInStock: number | null
  /** What is set aside for it, what half of such covers stay within, and 19 of 20; null where nothing is, or not yet. */
  aside: { amount: number; p50: number; p95: number } | null
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
  /** The vehicle's records have changed since it was scored: it is being scored again. */
  stale: boolean
  /** Null where nothing changed, or no day was asked for. */
  changed: WhatChanged | null
}

/** A part of the rows, in their order. */
export type RowWindow = { from: number; count: number }

type Found = Omit<WatchlistRow, 'standing' | 'changed'> & {
  familyKey: string
  urgency: number
  change: Omit<WhatChanged, 'place'> | null
}

/** The rows that a query asks for, in its order; all of them, or a part. */
export async function readWatchlist(
  scope: OrganisationScope,
  query: WatchlistQuery,
  window?: RowWindow,
): Promise<WatchlistRow[]> {
  const library = await libraryFor(scope, query)
  const found = await scope.tx.$queryRaw<Found[]>(rowsQuery(query, library, window))
  return found.map((row) => asRow(row, query.per, library))
}

/** Of a short list all rows, of a longer one the first, which are fewer. */
export type ListStart = { wholeUpTo: number; orFirst: number }

/** The first rows that a query asks for, and how many there are: found and counted in one look at the scores. */
export async function readWatchlistStart(
  scope: OrganisationScope,
  query: WatchlistQuery,
  start: ListStart,
): Promise<{ rows: WatchlistRow[]; total: number }> {
  const library = await libraryFor(scope, query)
  const found = await scope.tx.$queryRaw<(Found & { total: number })[]>(rowsQuery(query, library, start))
  const rows = found.map(({ total: _, ...row }) => asRow(row, query.per, library))
  return { rows, total: found[0]?.total ?? 0 }
}

/** How many rows a query asks for. */
export async function countWatchlist(scope: OrganisationScope, query: WatchlistQuery): Promise<number> {
  const library = await libraryFor(scope, query)
  const [found] = await scope.tx.$queryRaw<{ rows: number }[]>`
    ${sources(query, library)} select count(*)::int as rows from ${rowsFrom(query)} where ${conditions(query)}`
  return found?.rows ?? 0
}

/** Rows of vehicles have their names with them; only rows of weak points and changes are named by the library. */
async function libraryFor(scope: OrganisationScope, { per, since }: WatchlistQuery): Promise<Library | null> {
  if (per === 'vehicle' && since === null) return null
  return (await readKnownLibrary(scope))?.library ?? null
}

function sources(query: WatchlistQuery, library: Library | null): Prisma.Sql {
  const tables = [
    ...(query.per === 'weak-point' ? [namedComponents(library)] : []),
    ...(query.since === null ? [] : [changesSince(query)]),
  ]
  return tables.length === 0 ? Prisma.empty : Prisma.sql`with ${Prisma.join(tables, ', ')}`
}

const EPOCH = Prisma.sql`date '1970-01-01'`

const WHAT_CHANGED = Prisma.sql`case when change.weak_point is not null then json_build_object(
  'kind', case when change.is_stop then 'stop' when change.is_advice then 'advice' else 'risen' end,
  'weakPoint', change.weak_point, 'position', change.position, 'wasAdvice', change.was_advice,
  'wasPFail', change.was_p_fail, 'advice', change.advice, 'pFail', change.p_fail) end`

/** The places of the rows are found first, on little; what else they show is read for those alone. */
function rowsQuery(
  query: WatchlistQuery,
  library: Library | null,
  part: RowWindow | ListStart | undefined,
): Prisma.Sql {
  const perVehicle = query.per === 'vehicle'
  const start = part && 'orFirst' in part ? part : null
  const window = part && 'from' in part ? part : start && { from: 0, count: start.wholeUpTo }
  const component = perVehicle
    ? Prisma.sql`score.leading_name as "weakPoint", score.leading_place as place, score.leading_position as position, score.p_fail as "pFail",
        score.p_low as "pLow", score.p_high as "pHigh", score.cost_of_waiting as "costOfWaiting", score.speaks`
    : Prisma.sql`component.weak_point as "weakPoint", null as place, component.position, component.p_fail as "pFail",
        component.p_low as "pLow", component.p_high as "pHigh", component.cost_of_waiting as "costOfWaiting", component.speaks`
  const ownScores = perVehicle
    ? Prisma.empty
    : Prisma.sql`join component_scores component using (organisation_id, vehicle_id, weak_point, position)`
  return Prisma.sql`${sources(query, library)}
    select vehicle.unit, vehicle.plate, score.family_name as family, score.family as "familyKey", vehicle.site,
      vehicle.customer, vehicle.contact, vehicle.status, vehicle.history, vehicle.value,
      vehicle.asking_price as "askingPrice",
      case when vehicle.status = 'stock' then score.as_of - vehicle.acquired_on end as "daysInStock",
      case when stock.amount is not null then json_build_object('amount', stock.amount, 'p50', stock.p50, 'p95', stock.p95)
        end as aside, page.urgency, score.as_of - ${EPOCH} as "asOf",
      score.odometer_km as "odometerKm", score.odometer_read_on - ${EPOCH} as "odometerReadOn",
      score.odometer_estimated as "odometerEstimated", score.combined, ${component},
      score.last_full_scan_on - ${EPOCH} as "lastFullScanOn",
      score.last_looked_at_on - ${EPOCH} as "lastLookedAtOn",
      score.weak_points_covered as "weakPointsCovered",
      vehicle.records_version <> score.records_version as stale, page.change
      ${start ? Prisma.sql`, page.total` : Prisma.empty}
    from (select *, row_number() over () as place from (
      select score.organisation_id, score.vehicle_id, ${sourceOf(query).urgency} as urgency,
        ${perVehicle ? Prisma.empty : Prisma.sql`component.weak_point, component.position,`}
        ${query.since === null ? Prisma.sql`null::json` : WHAT_CHANGED} as change
        ${start ? Prisma.sql`, (count(*) over ())::int as total` : Prisma.empty}
      from ${rowsFrom(query)} where ${conditions(query)}
      order by ${orderOf(query)}
      ${window ? Prisma.sql`limit ${window.count} offset ${window.from}` : Prisma.empty}
    ) in_order) page ${ownScores}
    join vehicle_scores score using (organisation_id, vehicle_id)
    join vehicles vehicle on vehicle.organisation_id = page.organisation_id and vehicle.id = page.vehicle_id
    left join stock_amounts stock on stock.organisation_id = page.organisation_id and stock.vehicle_id = page.vehicle_id
    where score.horizon_days = ${query.horizonDays}
      ${perVehicle ? Prisma.empty : Prisma.sql`and component.horizon_days = ${query.horizonDays}`}
      ${start ? Prisma.sql`and (page.total <= ${start.wholeUpTo} or page.place <= ${start.orFirst})` : Prisma.empty}
    order by page.place`
}

function asRow(
  { familyKey, urgency, change, ...row }: Found,
  per: WatchlistQuery['per'],
  library: Library | null,
): WatchlistRow {
  const named = (weakPoint: string) =>
    library === null ? { name: weakPoint, place: null } : nameComponent(weakPoint, familyKey, library)
  const own = per === 'vehicle' || row.weakPoint === null ? null : named(row.weakPoint)
  const changed = change && named(change.weakPoint)
  return {
    ...row,
    standing: STANDINGS[urgency - 1] ?? 'not-assessed',
    weakPoint: own?.name ?? row.weakPoint,
    place: own?.place ?? row.place,
    changed: change && changed && { ...change, weakPoint: changed.name, place: changed.place },
  }
}

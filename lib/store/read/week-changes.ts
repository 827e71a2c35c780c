import type { Advice } from '@/lib/decisions/advice'
import type { Library } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import { nameComponent } from '../inner/component-names'
import type { OrganisationScope } from '../with-organisation'
import { readKnownLibrary } from './known-library'
import { RISEN } from './watchlist-query'

/** Some days, the last one included. */
export type Days = { from: Day; to: Day }

/** A notice that a vehicle must not be driven, raised within the days. */
export type WeekStop = {
  unit: string
  name: string
  position: number
  reason: string
  told: boolean
  released: boolean
}

/** A weak point whose chance rose over the days, as it was before them and at their end. */
export type WeekRise = {
  unit: string
  name: string
  position: number
  was: number
  now: number
  advice: Advice
}

type Raw<T> = Omit<T, 'name'> & { weakPoint: string; family: string }

/** The notices raised within the days where the organisation is, the oldest first. */
export async function readWeekStops(
  scope: OrganisationScope,
  { from, to }: Days,
  timeZone: string,
): Promise<WeekStop[]> {
  const found = await scope.tx.$queryRaw<Raw<WeekStop>[]>`
    select vehicle.unit, vehicle.family, notice.weak_point as "weakPoint", notice.position, notice.reason,
      notice.told_at is not null as told, notice.released_at is not null as released
    from stop_notices notice join vehicles vehicle on vehicle.id = notice.vehicle_id
    where vehicle.withdrawn_at is null
      and (notice.raised_at at time zone ${timeZone})::date - date '1970-01-01' between ${from}::int and ${to}::int
    order by notice.raised_at, notice.id`
  return named(found, await readKnownLibrary(scope))
}

/**
 * The weak points whose chance rose over the days, the most first; how many there are whatever the limit; and the first
 * day that scores were kept for, before which nothing can be compared.
 */
export async function readWeekRises(
  scope: OrganisationScope,
  { from, to }: Days,
  most: number,
): Promise<{ rises: WeekRise[]; total: number; keptFrom: Day | null }> {
  const [first] = await scope.tx.$queryRaw<{ keptFrom: Day | null }[]>`
    select min(as_of) - date '1970-01-01' as "keptFrom" from score_history
    where horizon_days = ${HISTORY_HORIZON_DAYS}`
  const found = await scope.tx.$queryRaw<(Raw<WeekRise> & { total: number })[]>`
    with moved as (
      select distinct vehicle_id, weak_point, position from score_history
      where horizon_days = ${HISTORY_HORIZON_DAYS}
        and as_of - date '1970-01-01' between ${from}::int and ${to}::int
    ), compared as (
      select moved.*, was.p_fail as was, now.p_fail as now, now.advice
      from moved cross join lateral (
        select p_fail from score_history history
        where history.vehicle_id = moved.vehicle_id and history.weak_point = moved.weak_point
          and history.position = moved.position and history.horizon_days = ${HISTORY_HORIZON_DAYS}
          and history.as_of - date '1970-01-01' < ${from}::int
        order by history.scored_at desc limit 1) was
      cross join lateral (
        select p_fail, advice from score_history history
        where history.vehicle_id = moved.vehicle_id and history.weak_point = moved.weak_point
          and history.position = moved.position and history.horizon_days = ${HISTORY_HORIZON_DAYS}
          and history.as_of - date '1970-01-01' <= ${to}::int
        order by history.scored_at desc limit 1) now)
    select vehicle.unit, vehicle.family, compared.weak_point as "weakPoint", compared.position, compared.was,
      compared.now, compared.advice, (count(*) over ())::int as total
    from compared join vehicles vehicle on vehicle.id = compared.vehicle_id
    where vehicle.withdrawn_at is null and compared.now >= ${RISEN.ratio} * compared.was
      and compared.now - compared.was >= ${RISEN.by}
    order by compared.now - compared.was desc, vehicle.unit, compared.weak_point, compared.position limit ${most}`
  return {
    rises: named(
      found.map(({ total: _, ...rise }) => rise),
      found.length > 0 ? await readKnownLibrary(scope) : null,
    ),
    total: found[0]?.total ?? 0,
    keptFrom: first?.keptFrom ?? null,
  }
}

/** With the name that the library has for each, or its key where it has none. */
const named = <T extends { weakPoint: string; family: string }>(
  found: T[],
  known: { library: Library } | null,
) =>
  found.map(({ weakPoint, family, ...rest }) => ({
    ...rest,
    name: known ? nameComponent(weakPoint, family, known.library).name : weakPoint,
  }))

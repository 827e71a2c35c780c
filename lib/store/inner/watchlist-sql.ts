import { ADVICE } from '@/lib/decisions/advice'
import type { Library } from '@/lib/records/library'
import { Prisma } from '@/prisma/client/client'
import {
  ODOMETER_OLD_DAYS,
  RISEN,
  type SortKey,
  type WatchlistColumn,
  type WatchlistMark,
  type WatchlistQuery,
} from '../read/watchlist-query'
import { STANDINGS } from '../standing'
import { nameComponent } from './component-names'

const { sql } = Prisma
const EPOCH = sql`date '1970-01-01'`
/** Texts in small letters stand in the order of their letters' numbers, whatever the server's language. */
const asText = (text: Prisma.Sql) => sql`${text} collate "C"`

/** One source of rows: where its rows come from, and what a row is called and scored by there. */
type Source = {
  from: Prisma.Sql
  urgency: Prisma.Sql
  weakPointName: Prisma.Sql
  weakPointKey: Prisma.Sql
  position: Prisma.Sql
  pFail: Prisma.Sql
  costOfWaiting: Prisma.Sql
  speaksKey: Prisma.Sql
  words: Prisma.Sql
  /** What makes a row of a vehicle one row. */
  component: Prisma.Sql
}

const VEHICLES: Source = {
  from: sql`vehicle_scores score`,
  urgency: sql`score.urgency`,
  weakPointName: sql`score.leading_name`,
  weakPointKey: sql`score.weak_point_key`,
  position: sql`score.leading_position`,
  pFail: sql`score.p_fail`,
  costOfWaiting: sql`score.cost_of_waiting`,
  speaksKey: sql`score.speaks_key`,
  words: sql`score.words`,
  component: sql`score.leading_weak_point, score.leading_position`,
}

const COMPONENTS: Source = {
  from: sql`component_scores component
    join vehicle_scores score using (organisation_id, vehicle_id, horizon_days)
    left join named on named.family = score.family and named.key = component.weak_point`,
  urgency: sql`array_position(${ADVICE}::text[], component.advice)`,
  weakPointName: sql`coalesce(named.name, component.weak_point)`,
  weakPointKey: sql`lower(coalesce(named.name, component.weak_point))`,
  position: sql`component.position`,
  pFail: sql`component.p_fail`,
  costOfWaiting: sql`component.cost_of_waiting`,
  speaksKey: sql`lower(component.speaks)`,
  words: sql`lower(concat_ws(' ', score.unit, vehicle.plate, score.site, score.customer, score.family_name,
    coalesce(named.name, component.weak_point), component.speaks))`,
  component: sql`component.weak_point, component.position`,
}

export const sourceOf = ({ per }: WatchlistQuery): Source => (per === 'vehicle' ? VEHICLES : COMPONENTS)

/** What the library calls each weak point, as a table. */
export function namedComponents(library: Library | null): Prisma.Sql {
  const known = (library?.families ?? []).flatMap((family) =>
    family.weakPoints.map(({ key }) => ({
      family: family.key,
      key,
      name: nameComponent(key, family.key, library!).name,
    })),
  )
  const column = (field: 'family' | 'key' | 'name') => known.map((each) => each[field])
  return sql`named as (select * from unnest(${column('family')}::text[], ${column('key')}::text[],
    ${column('name')}::text[]) as named(family, key, name))`
}

/**
 * What has become of each vehicle since a day, at one horizon: of its weak points with another advice or chance, the
 * one that changed most to the worse, as it was then and is now.
 */
export function changesSince({ since, horizonDays, per }: WatchlistQuery): Prisma.Sql {
  const key = per === 'vehicle' ? sql`vehicle_id` : sql`vehicle_id, weak_point, position`
  return sql`moved as materialized (
      select distinct vehicle_id, weak_point, position from score_history
      where horizon_days = ${horizonDays} and as_of > ${EPOCH} + ${since ?? 0}::integer
    ), compared as (
      select moved.*, was.advice as was_advice, was.p_fail as was_p_fail, now.advice, now.p_fail,
        now.advice = 'stop' and was.advice <> 'stop' as is_stop,
        now.advice <> was.advice as is_advice,
        now.p_fail >= ${RISEN.ratio} * was.p_fail and now.p_fail - was.p_fail >= ${RISEN.by} as is_risen
      from moved
      join component_scores now using (vehicle_id, weak_point, position)
      cross join lateral (
        select advice, p_fail from score_history history
        where history.vehicle_id = moved.vehicle_id and history.weak_point = moved.weak_point
          and history.position = moved.position and history.horizon_days = ${horizonDays}
          and history.as_of <= ${EPOCH} + ${since ?? 0}::integer
        order by history.scored_at desc limit 1) was
      where now.horizon_days = ${horizonDays}
    ), change as materialized (
      select distinct on (${key}) *,
        bool_or(is_stop) over each_row as any_stop, bool_or(is_advice) over each_row as any_advice,
        bool_or(is_risen) over each_row as any_risen
      from compared where is_advice or is_risen
      window each_row as (partition by ${key})
      order by ${key}, is_stop desc, is_advice desc, array_position(${ADVICE}::text[], advice), p_fail desc, weak_point, position
    )`
}

const CHANGE_OF: Record<WatchlistQuery['per'], Prisma.Sql> = {
  vehicle: sql`left join change on change.vehicle_id = score.vehicle_id`,
  'weak-point': sql`left join change on change.vehicle_id = score.vehicle_id
    and change.weak_point = component.weak_point and change.position = component.position`,
}
const NO_CHANGE = sql`cross join (select null::text as weak_point, null::integer as position, null::text as was_advice,
  null::float8 as was_p_fail, null::text as advice, null::float8 as p_fail, false as is_stop, false as is_advice,
  false as is_risen, false as any_stop, false as any_advice, false as any_risen) change`

/** Whether the vehicle's own row is needed to find rows, and not only to show them. */
const needsVehicle = ({ per, search, sort }: WatchlistQuery) =>
  (per === 'weak-point' && search !== '') || sort.some(({ column }) => column === 'inStock')

/** Where the rows come from, with what they are found and sorted by. */
export function rowsFrom(query: WatchlistQuery): Prisma.Sql {
  const change = query.since === null ? NO_CHANGE : CHANGE_OF[query.per]
  const vehicle = needsVehicle(query)
    ? sql`join vehicles vehicle on vehicle.organisation_id = score.organisation_id and vehicle.id = score.vehicle_id`
    : Prisma.empty
  const stock = query.sort.some(({ column }) => column === 'aside')
    ? sql`left join stock_amounts stock on stock.organisation_id = score.organisation_id
        and stock.vehicle_id = score.vehicle_id`
    : Prisma.empty
  return sql`${sourceOf(query).from} ${vehicle} ${stock} ${change}`
}

const MARKS: Record<WatchlistMark, (source: Source) => Prisma.Sql> = {
  'history-unknown': () => sql`score.history = 'none'`,
  'never-looked-at': () => sql`score.last_looked_at_on is null`,
  'never-scanned': () => sql`score.last_full_scan_on is null`,
  'odometer-old': () =>
    sql`(score.odometer_read_on is null or score.as_of - score.odometer_read_on > ${ODOMETER_OLD_DAYS}::integer)`,
  'worth-it-now': (source) => sql`${source.costOfWaiting} > 0`,
}

const CHANGED = {
  stop: sql`change.any_stop`,
  advice: sql`change.any_advice`,
  risen: sql`change.any_risen`,
}

/** What a row must be to be shown. */
export function conditions(query: WatchlistQuery): Prisma.Sql {
  const source = sourceOf(query)
  const among = (column: Prisma.Sql, values: readonly string[]) =>
    values.length === 0 ? [] : [sql`${column} = any(${values}::text[])`]
  const words = query.search.toLowerCase().split(/\s+/).filter(Boolean)
  const urgencies = query.standings.map((standing) => STANDINGS.indexOf(standing) + 1)
  const asking = query.per === 'weak-point' && urgencies.length > 0 && !query.standings.includes('fine')
  return Prisma.join(
    [
      sql`score.horizon_days = ${query.horizonDays}`,
      ...(asking ? [sql`component.horizon_days = ${query.horizonDays} and component.advice <> 'fine'`] : []),
      ...(urgencies.length === 0 ? [] : [sql`${source.urgency} = any(${urgencies}::integer[])`]),
      ...among(sql`score.unit`, query.units),
      ...among(sql`score.family`, query.families),
      ...among(sql`score.site`, query.sites),
      ...among(sql`score.customer`, query.customers),
      ...among(source.weakPointName, query.weakPoints),
      ...among(sql`score.status`, query.statuses),
      ...query.marks.map((mark) => MARKS[mark](source)),
      ...(query.changes.length === 0
        ? []
        : [
            sql`(${Prisma.join(
              query.changes.map((change) => CHANGED[change]),
              ' or ',
            )})`,
          ]),
      ...words.map((word) => sql`${source.words} like ${`%${word.replace(/[\\%_]/g, '\\$&')}%`}`),
    ],
    ' and ',
  )
}

type Key = { by: Prisma.Sql; nullsFirstDescending?: boolean }

/** What each column sorts by. What is not known comes last in both directions; never scanned is longest ago. */
function keysOf(column: WatchlistColumn, source: Source): Key[] {
  const keys: Record<WatchlistColumn, Prisma.Sql[]> = {
    unit: [asText(sql`score.number_key`)],
    customer: [asText(sql`score.customer_key`)],
    contact: [asText(sql`score.contact_key`)],
    advice: [source.urgency],
    weakPoint: [asText(source.weakPointKey), source.position],
    chance: [source.pFail],
    speaks: [asText(source.speaksKey)],
    changed: [
      sql`case when change.is_stop then 1 when change.is_advice then 2 when change.is_risen then 3 end`,
    ],
    next: [source.urgency],
    waiting: [source.costOfWaiting],
    combined: [sql`score.combined`],
    engine: [asText(sql`score.engine_key`)],
    site: [asText(sql`score.site_key`)],
    status: [asText(sql`score.status`)],
    history: [asText(sql`score.history`)],
    value: [sql`score.value`],
    asking: [sql`score.asking_price`],
    inStock: [sql`case when vehicle.status = 'stock' then score.as_of - vehicle.acquired_on end`],
    aside: [sql`stock.amount`],
    odometer: [sql`score.odometer_km`],
    scan: [sql`score.as_of - score.last_full_scan_on`],
  }
  return keys[column].map((by) => ({ by, nullsFirstDescending: column === 'scan' }))
}

/** Rows that are equal in the sorted columns stand by vehicle number, whatever the direction. */
export function orderOf(query: WatchlistQuery): Prisma.Sql {
  const source = sourceOf(query)
  const sorted = query.sort.flatMap(({ column, descending }: SortKey) =>
    keysOf(column, source).map(({ by, nullsFirstDescending }) => {
      const nulls = descending && nullsFirstDescending ? sql`nulls first` : sql`nulls last`
      return sql`${by} ${descending ? sql`desc` : sql`asc`} ${nulls}`
    }),
  )
  const ties = [sql`score.number_key collate "C"`, sql`score.unit collate "C"`]
  const tie =
    query.per === 'vehicle' ? ties : [...ties, sql`component.weak_point collate "C"`, source.position]
  return Prisma.join([...sorted, ...tie], ', ')
}

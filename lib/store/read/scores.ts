import { ADVICE, type Advice } from '@/lib/decisions/advice'
import type { ComponentScore } from '@/lib/decisions/score-fleet'
import { type ScoreColumn, scoreObject } from '@/lib/intake/score-columns'
import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'

/** The columns by which scores can be sorted. */
export const SCORE_SORTS = [
  'unit',
  'weak_point',
  'position',
  'p_fail',
  'p_low',
  'p_high',
  'p_developing',
  'remaining_km_p50',
  'cost_of_waiting',
  'advice',
] as const satisfies readonly ScoreColumn[]
export type ScoreSort = (typeof SCORE_SORTS)[number]

/** Where a list of scores goes on: after the row with this value in the sorted column. */
export type ScorePlace = { key: string | number; unit: string; weakPoint: string; position: number }

/** Which scores, in which order; a filter that is left out takes everything. */
export type ScoresQuery = {
  horizonDays: number
  sort: ScoreSort
  descending: boolean
  limit: number
  after: ScorePlace | null
  unit?: string
  weakPoint?: string
  family?: string
  site?: string
  advice?: Advice
}

export type ScoresPage = { scores: ComponentScore[]; next: ScorePlace | null }

const MORE_THAN_ANY = 1e300

/** By what each column sorts: text by its bytes, advice by urgency (the most urgent is the least), unknown last. */
function sortKey(sort: ScoreSort, descending: boolean): Prisma.Sql {
  const last = descending ? -MORE_THAN_ANY : MORE_THAN_ANY
  const keys: Record<ScoreSort, Prisma.Sql> = {
    unit: Prisma.sql`vehicle.unit collate "C"`,
    weak_point: Prisma.sql`score.weak_point collate "C"`,
    position: Prisma.sql`score.position::float8`,
    p_fail: Prisma.sql`score.p_fail`,
    p_low: Prisma.sql`score.p_low`,
    p_high: Prisma.sql`score.p_high`,
    p_developing: Prisma.sql`score.p_developing`,
    remaining_km_p50: Prisma.sql`coalesce(score.remaining_km_p50, ${last}::float8)`,
    cost_of_waiting: Prisma.sql`score.cost_of_waiting`,
    advice: Prisma.sql`array_position(${ADVICE}::text[], score.advice)::float8`,
  }
  return keys[sort]
}

/** Rows after a place; equal keys stand by unit, weak point and position, whatever the direction. */
function afterPlace(key: Prisma.Sql, { descending, after }: ScoresQuery): Prisma.Sql {
  if (after === null) return Prisma.sql`true`
  const value =
    typeof after.key === 'string' ? Prisma.sql`${after.key} collate "C"` : Prisma.sql`${after.key}::float8`
  const beyond = descending ? Prisma.sql`${key} < ${value}` : Prisma.sql`${key} > ${value}`
  return Prisma.sql`(${beyond} or (${key} = ${value} and
    (vehicle.unit collate "C", score.weak_point collate "C", score.position)
      > (${after.unit}, ${after.weakPoint}, ${after.position}::integer)))`
}

const STORED = Prisma.sql`component_scores`

/** Scores as a table like the stored one. */
const rowsOf = (scores: readonly ComponentScore[]) => Prisma.sql`(
  select vehicles.id as vehicle_id, '' as speaks, given.*
  from jsonb_to_recordset(${JSON.stringify(scores.map(scoreObject))}::jsonb) as given(
    unit text, weak_point text, position integer, as_of date, horizon_days float8, p_fail float8, p_low float8,
    p_high float8, p_developing float8, remaining_km_p50 float8, cost_of_waiting float8, advice text)
  join vehicles on vehicles.unit = given.unit)`

type Found = ComponentScore & { key: string | number }

/**
 * The scores that a query asks for, in its order, up to its limit.
 *
 * @param computed scores at a horizon for which none are kept, to be asked in the place of the stored ones
 */
export async function readScores(
  { tx }: OrganisationScope,
  query: ScoresQuery,
  computed: readonly ComponentScore[] | null = null,
): Promise<ScoresPage> {
  const key = sortKey(query.sort, query.descending)
  const direction = query.descending ? Prisma.sql`desc` : Prisma.sql`asc`
  const given = (value: string | undefined, column: Prisma.Sql) =>
    value === undefined ? Prisma.sql`true` : Prisma.sql`${column} = ${value}`
  const found = await tx.$queryRaw<Found[]>`
    select ${key} as key, vehicle.unit, score.weak_point as "weakPoint", score.position,
      score.as_of - date '1970-01-01' as "asOf", score.horizon_days as "horizonDays", null as "horizonKm",
      score.p_fail as "pFail", score.p_low as "pLow", score.p_high as "pHigh", score.p_developing as "pDeveloping",
      score.remaining_km_p50 as "remainingKmP50", score.cost_of_waiting as "costOfWaiting", score.advice, score.speaks
    from ${computed ? rowsOf(computed) : STORED} score join vehicles vehicle on vehicle.id = score.vehicle_id
    where score.horizon_days = ${query.horizonDays}::float8 and vehicle.withdrawn_at is null
      and ${given(query.unit, Prisma.sql`vehicle.unit`)}
      and ${given(query.weakPoint, Prisma.sql`score.weak_point`)}
      and ${given(query.family, Prisma.sql`vehicle.family`)}
      and ${given(query.site, Prisma.sql`vehicle.site`)}
      and ${given(query.advice, Prisma.sql`score.advice`)}
      and ${afterPlace(key, query)}
    order by ${key} ${direction}, vehicle.unit collate "C", score.weak_point collate "C", score.position
    limit ${query.limit + 1}`
  const page = found.slice(0, query.limit)
  const last = found.length > query.limit ? page.at(-1) : undefined
  const next = last && { key: last.key, unit: last.unit, weakPoint: last.weakPoint, position: last.position }
  return { scores: page.map(({ key: _, ...score }) => score), next: next ?? null }
}

import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'

/** What became of rows: a correction is a row of its own that stands for another. */
export const AUDIT_ACTS = ['added', 'changed', 'corrected', 'removed'] as const
export type AuditAct = (typeof AUDIT_ACTS)[number]

/** What a row says in its columns, by their names in the database. */
export type ToldRow = Readonly<Record<string, unknown>>

/** One line of the audit trail. */
export type AuditLine = {
  /** Its place in the organisation's trail, which counts up. */
  place: number
  at: Date
  /** Who, as it was kept (`readActor`). */
  actor: string
  /** The table. */
  what: string
  act: AuditAct
  subject: string | null
  /** The vehicle's number as it is today. */
  unit: string | null
  rowCount: number
  /** Of one row: all that it said (added, removed), or what changed; null where many rows are counted. */
  before: ToldRow | null
  after: ToldRow | null
  /** What it said of somebody has been erased since. */
  erased: boolean
}

/** Which lines: null asks for all. Days are those of the organisation's time zone, both included. */
export type AuditWanted = {
  actor: string | null
  what: string | null
  unit: string | null
  /** As YYYY-MM-DD. */
  since: string | null
  until: string | null
  timeZone: string
  /** Only those before this place. */
  before: number | null
  most: number
}

const { sql } = Prisma

/**
 * Lines of the audit trail, the newest first, with the place to go on from; null behind the last. Places and times grow
 * together, so that days become places, and every question is answered by an index in the order of places.
 */
export async function readAuditLines(
  scope: OrganisationScope,
  wanted: AuditWanted,
): Promise<{ lines: AuditLine[]; next: number | null }> {
  const conditions = await conditionsOf(scope, wanted)
  if (conditions === null) return { lines: [], next: null }
  const found = await scope.tx.$queryRaw<AuditLine[]>`
    select line.place::float8 as place, line.at, line.actor, line.what, line.act, line.subject::text as subject,
      vehicle.unit, line.row_count as "rowCount", line.before, line.after, line.salt is null as erased
    from audit_lines line
      left join vehicles vehicle on vehicle.organisation_id = line.organisation_id and vehicle.id = line.vehicle_id
    where line.organisation_id = ${scope.organisation}::uuid and ${Prisma.join(conditions, ' and ')}
    order by line.place desc limit ${wanted.most + 1}`
  const lines = found.slice(0, wanted.most)
  return { lines, next: found.length > wanted.most ? (lines.at(-1)?.place ?? null) : null }
}

/** @returns null where nothing can be like that */
async function conditionsOf(scope: OrganisationScope, wanted: AuditWanted): Promise<Prisma.Sql[] | null> {
  const { actor, what, unit, since, until, timeZone, before } = wanted
  const conditions = [sql`true`]
  if (actor !== null) conditions.push(sql`line.actor = ${actor}`)
  if (what !== null) conditions.push(sql`line.what = ${what}`)
  if (before !== null) conditions.push(sql`line.place < ${before}::bigint`)
  if (unit !== null) {
    const id = await vehicleOf(scope, unit)
    if (id === null) return null
    conditions.push(sql`line.vehicle_id = ${id}::uuid`)
  }
  if (since !== null) {
    const first = await firstPlaceFrom(scope, sql`${since}::date::timestamp at time zone ${timeZone}`)
    if (first === null) return null
    conditions.push(sql`line.place >= ${first}::bigint`)
  }
  if (until !== null) {
    const after = await firstPlaceFrom(scope, sql`(${until}::date + 1)::timestamp at time zone ${timeZone}`)
    if (after !== null) conditions.push(sql`line.place < ${after}::bigint`)
  }
  return conditions
}

async function firstPlaceFrom(
  { tx, organisation }: OrganisationScope,
  instant: Prisma.Sql,
): Promise<number | null> {
  const [found] = await tx.$queryRaw<{ place: number }[]>`
    select place::float8 as place from audit_lines
    where organisation_id = ${organisation}::uuid and at >= ${instant} order by at, audit_lines.place limit 1`
  return found?.place ?? null
}

async function vehicleOf({ tx }: OrganisationScope, unit: string): Promise<string | null> {
  const [found] = await tx.$queryRaw<{ id: string }[]>`select id::text from vehicles where unit = ${unit}`
  return found?.id ?? null
}

/** Everybody who stands in the trail: one step of an index each, however many lines they have. */
export async function readAuditActors({ tx, organisation }: OrganisationScope): Promise<string[]> {
  const found = await tx.$queryRaw<{ actor: string }[]>`
    with recursive known as (
      (select actor from audit_lines where organisation_id = ${organisation}::uuid order by actor limit 1)
      union all
      select (select actor from audit_lines
        where organisation_id = ${organisation}::uuid and actor > known.actor order by actor limit 1)
      from known where known.actor is not null)
    select actor from known where actor is not null`
  return found.map(({ actor }) => actor)
}

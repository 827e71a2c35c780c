import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A replay that was kept, of what it holds only the outcome: to look for more in all of them takes long. */
export type PastReplay = {
  id: string
  libraryVersion: number
  madeAt: Date
  /** Of all cut-offs together, a failure counting in each window in which it lies. */
  expected: number
  observed: number
  imputed: number
}

/** What is known of one without reading what it holds. */
export type ReplayHead = { id: string; libraryVersion: number; asOf: Day; madeAt: Date }

/** One with what it holds, as JSON. */
export type StoredReplay = ReplayHead & { content: string }

/** A replay that is under way, or asked for. */
export type ReplayJob = { id: string; done: number; total: number | null }

/** How right the scores have been, and whether it is being found out. */
export type TrackRecord = {
  latest: ReplayHead | null
  /** Every replay of a library that was in force, the latest first. */
  history: PastReplay[]
  job: ReplayJob | null
  /** Why it failed, where it did since the latest. */
  failure: { message: string; at: Date } | null
}

export async function readTrackRecord(scope: OrganisationScope): Promise<TrackRecord> {
  const latest = await readLatest(scope)
  return {
    latest,
    history: await readHistory(scope),
    job: await readJob(scope, 'replay', null),
    failure: await readFailure(scope, { kind: 'replay', id: null, since: latest?.madeAt ?? null }),
  }
}

async function readLatest({ tx }: OrganisationScope): Promise<ReplayHead | null> {
  const [found] = await tx.$queryRaw<ReplayHead[]>`
    select id::text, library_version as "libraryVersion", as_of - '1970-01-01'::date as "asOf", made_at as "madeAt"
    from replays where draft_id is null order by made_at desc, id desc limit 1`
  return found ?? null
}

/** One replay of a library that was in force. @param id which; null for the latest. @returns null where there is none */
export async function readReplay({ tx }: OrganisationScope, id: string | null): Promise<StoredReplay | null> {
  const [found] = await tx.$queryRaw<StoredReplay[]>`
    select id::text, library_version as "libraryVersion", as_of - '1970-01-01'::date as "asOf", made_at as "madeAt",
      content
    from replays where draft_id is null and (${id}::text is null or id::text = ${id})
    order by made_at desc, id desc limit 1`
  return found ?? null
}

const MOST_PAST = 50

function readHistory({ tx }: OrganisationScope): Promise<PastReplay[]> {
  return tx.$queryRaw<PastReplay[]>`
    select id::text, library_version as "libraryVersion", made_at as "madeAt",
      (judged->>'expected')::float as expected, (judged->>'observed')::float as observed,
      (judged->>'imputed')::float as imputed
    from (select *, content::json#>'{overall,judgements,product}' as judged from replays
      where draft_id is null order by made_at desc, id desc limit ${MOST_PAST}) past`
}

/** What came out when a draft was tried on the past. */
export type DraftReplay = {
  /** The latest trial: a comparison as JSON, and when the draft and the records were read. */
  latest: { libraryVersion: number; asOf: Day; madeAt: Date; comparison: string } | null
  job: ReplayJob | null
  failure: { message: string; at: Date } | null
}

export async function readDraftReplay(scope: OrganisationScope, draft: string): Promise<DraftReplay> {
  const [latest] = await scope.tx.$queryRaw<NonNullable<DraftReplay['latest']>[]>`
    select library_version as "libraryVersion", as_of - '1970-01-01'::date as "asOf", made_at as "madeAt", comparison
    from replays where draft_id::text = ${draft} and comparison is not null order by made_at desc, id desc limit 1`
  const failed = { kind: 'replay-draft', id: draft, since: latest?.madeAt ?? null }
  return {
    latest: latest ?? null,
    job: await readJob(scope, 'replay-draft', draft),
    failure: await readFailure(scope, failed),
  }
}

async function readJob(
  { tx }: OrganisationScope,
  kind: string,
  id: string | null,
): Promise<ReplayJob | null> {
  const [job] = await tx.$queryRaw<ReplayJob[]>`
    select id::text, done, total from jobs
    where kind = ${kind} and state = 'running' and (${id}::text is null or id::text = ${id})`
  return job ?? null
}

async function readFailure(
  { tx }: OrganisationScope,
  { kind, id, since }: { kind: string; id: string | null; since: Date | null },
): Promise<TrackRecord['failure']> {
  const [failure] = await tx.$queryRaw<NonNullable<TrackRecord['failure']>[]>`
    select message, finished_at as at from jobs
    where kind = ${kind} and state = 'failed' and (${id}::text is null or id::text = ${id})
      and finished_at > coalesce(${since}::timestamptz, '-infinity')
    order by finished_at desc limit 1`
  return failure ?? null
}

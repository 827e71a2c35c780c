import type { OrganisationScope } from '../with-organisation'
import { columnsOf } from './columns'
import { lockOrganisation } from './locks'
import type { RecordKind } from './record-tables'

/** Which version of which record is meant, who acts on it, and when. */
export type RecordAct = { kind: RecordKind; id: string; now: Date; by: string | null }

/** What came of it: the version that was made or changed and the vehicles that it touches, or why nothing was done. */
export type RecordActResult =
  | { ok: true; id: string; touched: string[] }
  | { ok: false; reason: 'not-found' | 'not-live' | 'not-withdrawn' | 'not-a-correction' | 'same-as-another' }

/** One version of a record. All versions of one record share its sequence; at most one of them is live. */
export type RecordVersion = {
  id: string
  unit: string
  sequence: bigint
  ref: string | null
  contentHash: string
  correctsHash: string | null
  supersedesId: string | null
  live: boolean
  withdrawn: boolean
}

/** The versions of one record, in the order in which they came: the one that was asked for, and the live one. */
export type Versions = { asked: RecordVersion; live: RecordVersion | undefined; all: RecordVersion[] }

/** What a version that came in another's place carries besides its contents. */
export const VERSION_COLUMNS = columnsOf<{
  contentHash: string
  correctsHash: string
  supersedesId: string
  sequence: bigint
}>({ contentHash: 'hex', correctsHash: 'hex', supersedesId: 'uuid', sequence: 'bigint' })

/** Finds a version with its sisters, and keeps others from changing them until the end of the transaction. */
export async function holdVersions(
  scope: OrganisationScope,
  { kind, id }: Pick<RecordAct, 'kind' | 'id'>,
): Promise<Versions | null> {
  await lockOrganisation(scope, 'records')
  const all = await scope.tx.$queryRawUnsafe<RecordVersion[]>(
    `select record.id::text, vehicle.unit, record.sequence, record.ref,
       encode(content_hash, 'hex') as "contentHash", encode(corrects_hash, 'hex') as "correctsHash",
       supersedes_id::text as "supersedesId", record.withdrawn_at is not null as withdrawn,
       record.superseded_at is null and record.withdrawn_at is null as live
     from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
     where record.sequence = (select sequence from ${kind} where id = $1::uuid) order by record.id`,
    id,
  )
  const asked = all.find((version) => version.id === id)
  return asked ? { asked, live: all.find(({ live }) => live), all } : null
}

/** Whether another record that counts says the same, or has the same `ref`: then this one cannot count beside it. */
export async function clashes(
  { tx }: OrganisationScope,
  kind: RecordKind,
  version: Pick<RecordVersion, 'sequence' | 'contentHash' | 'ref'>,
): Promise<boolean> {
  const [found] = await tx.$queryRawUnsafe<{ clashes: boolean }[]>(
    `select exists (select from ${kind} where sequence <> $1::bigint and superseded_at is null and withdrawn_at is null
       and (content_hash = decode($2, 'hex') or ref = $3)) as clashes`,
    version.sequence,
    version.contentHash,
    version.ref,
  )
  return found?.clashes ?? false
}

/** Marks a live version as superseded by another of the same record. */
export async function supersede(
  { tx }: OrganisationScope,
  { kind, now }: Pick<RecordAct, 'kind' | 'now'>,
  earlier: RecordVersion | undefined,
  by: string,
): Promise<void> {
  await tx.$executeRawUnsafe(
    `update ${kind} set superseded_at = $1::timestamptz, superseded_by = $2::uuid where id = $3::uuid`,
    now.toISOString(),
    by,
    earlier?.id ?? null,
  )
}

/** Marks a live version as withdrawn. */
export async function withdraw(
  scope: OrganisationScope,
  { kind, now, by }: RecordAct,
  id: string,
): Promise<void> {
  await scope.tx.$executeRawUnsafe(
    `update ${kind} set withdrawn_at = $1::timestamptz, withdrawn_by = $2::uuid where id = $3::uuid`,
    now.toISOString(),
    by,
    id,
  )
}

/** Takes every mark off a version: it is the live one of its record. */
export async function enliven(scope: OrganisationScope, kind: RecordKind, id: string): Promise<void> {
  await scope.tx.$executeRawUnsafe(
    `update ${kind} set superseded_at = null, superseded_by = null, withdrawn_at = null, withdrawn_by = null
     where id = $1::uuid`,
    id,
  )
}

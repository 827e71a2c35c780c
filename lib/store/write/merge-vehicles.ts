import type { Records, VehicleRow } from '@/lib/records/rows'
import { selection } from '../inner/columns'
import { contentHash } from '../inner/content-hash'
import { ENTRY_COLUMNS, entryFields } from '../inner/entry-columns'
import { insertOnVehicles } from '../inner/insert-rows'
import { lockOrganisation } from '../inner/locks'
import { newId } from '../inner/new-id'
import { RECORD_COLUMNS, RECORD_KINDS, type RecordKind } from '../inner/record-tables'
import { VERSION_COLUMNS } from '../inner/record-versions'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows, type StoredVehicle } from '../inner/vehicle-rows'
import { hasOpenStop, withdrawVehicle } from '../inner/withdraw-vehicle'
import type { OrganisationScope } from '../with-organisation'

/** Two vehicles that are one: which stays, which goes, and what is to stand of the one that stays. */
export type Merge = {
  unit: string
  other: string
  facts: Partial<Omit<VehicleRow, 'unit'>>
  now: Date
  by: string
}

/** What came of it: records that moved, and those that both had, which count once. */
export type MergeResult =
  | { ok: true; touched: string[]; moved: number; twice: number }
  | { ok: false; reason: 'not-found' | 'open-stop' }

/**
 * Makes two vehicles one. Every live record of the other is superseded by one of the vehicle that stays, so that what
 * was known of either on a past day is still told as it was known; one that both have is withdrawn from the other. The
 * other is withdrawn. `partVehicles` undoes it.
 */
export async function mergeVehicles(scope: OrganisationScope, merge: Merge): Promise<MergeResult> {
  const { unit, other, facts, now, by } = merge
  await lockOrganisation(scope, 'records')
  const held = await holdVehicles(scope, [unit, other])
  const [stays, goes] = [unit, other].map((number) =>
    held.find(({ row, withdrawn }) => row.unit === number && !withdrawn),
  )
  if (!stays || !goes || unit === other) return { ok: false, reason: 'not-found' }
  if (await hasOpenStop(scope, goes)) return { ok: false, reason: 'open-stop' }
  let [moved, twice] = [0, 0]
  for (const kind of RECORD_KINDS) {
    const done = await moveRecords(scope, kind, goes, merge)
    moved += done.moved
    twice += done.twice
  }
  // A version in any case: it is by its instant that one is known to be part of the other.
  await replaceVehicleRows(scope, [{ id: stays.id, before: stays.row, row: { ...stays.row, ...facts } }], {
    ...{ now, by },
  })
  await withdrawVehicle(scope, goes, { now, by })
  await touchVehicles(scope, [unit])
  return { ok: true, touched: [unit], moved, twice }
}

type Kept = { id: string; sequence: string; contentHash: string; correctsHash: string | null }

async function moveRecords<Kind extends RecordKind>(
  scope: OrganisationScope,
  kind: Kind,
  { id: from }: StoredVehicle,
  { unit, now, by }: Merge,
): Promise<{ moved: number; twice: number }> {
  const rows = await scope.tx.$queryRawUnsafe<(Records[Kind][number] & { kept: Kept })[]>(
    `select ${selection(RECORD_COLUMNS[kind], 'record')}, json_build_object('id', record.id, 'sequence', sequence::text,
       'contentHash', encode(content_hash, 'hex'), 'correctsHash', encode(corrects_hash, 'hex')) as kept
     from ${kind} record where vehicle_id = $1::uuid and superseded_at is null and withdrawn_at is null
     order by sequence`,
    from,
  )
  const versions = rows.map(({ kept, ...row }) => {
    const own = { ...row, unit }
    const place = { supersedesId: kept.id, sequence: kept.sequence }
    const hashes = { contentHash: contentHash(own), correctsHash: kept.correctsHash ?? kept.contentHash }
    return { ...own, ...entryFields({ now, by }), ...place, ...hashes, id: newId(now) }
  })
  const known = await knownAmong(scope, kind, versions)
  const moving = versions.filter(({ contentHash: hash }) => !known.has(hash))
  const twice = versions.filter(({ contentHash: hash }) => known.has(hash))
  await scope.tx.$executeRawUnsafe(
    `update ${kind} record set superseded_at = $1::timestamptz, superseded_by = given.by::uuid
     from unnest($2::text[], $3::text[]) as given(id, by) where record.id = given.id::uuid`,
    now.toISOString(),
    moving.map(({ supersedesId }) => supersedesId),
    moving.map(({ id }) => id),
  )
  await scope.tx.$executeRawUnsafe(
    `update ${kind} set withdrawn_at = $1::timestamptz, withdrawn_by = $2::uuid where id = any($3::text[]::uuid[])`,
    now.toISOString(),
    by,
    twice.map(({ supersedesId }) => supersedesId),
  )
  const columns = [...ENTRY_COLUMNS, ...VERSION_COLUMNS, ...RECORD_COLUMNS[kind]]
  await insertOnVehicles(scope, { name: kind, columns }, moving)
  return { moved: moving.length, twice: twice.length }
}

/** Of what records say, what a live one says already or stands for since it was corrected. */
async function knownAmong(
  { tx }: OrganisationScope,
  kind: RecordKind,
  versions: { contentHash: string }[],
): Promise<Set<string>> {
  const found = await tx.$queryRawUnsafe<{ hash: string }[]>(
    `select hash from unnest($1::text[]) as given(hash) where exists (
       select from ${kind} where superseded_at is null and withdrawn_at is null
         and (content_hash = decode(hash, 'hex') or corrects_hash = decode(hash, 'hex')))`,
    versions.map((version) => version.contentHash),
  )
  return new Set(found.map(({ hash }) => hash))
}

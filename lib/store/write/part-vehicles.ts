import type { VehicleRow } from '@/lib/records/rows'
import { lockOrganisation } from '../inner/locks'
import { RECORD_KINDS, type RecordKind } from '../inner/record-tables'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows, type StoredVehicle } from '../inner/vehicle-rows'
import type { OrganisationScope } from '../with-organisation'

/** Which two vehicles were made one, when, and who parts them now. */
export type Parting = { unit: string; other: string; mergedAt: Date; now: Date; by: string }

/** What came of it: how many records stay where they are because somebody has acted on them since, and the facts. */
export type PartingResult =
  | { ok: true; touched: string[]; stay: number; factsStay: boolean }
  | { ok: false; reason: 'not-found' }

/**
 * Undoes a merge: the other vehicle is there again with its records, but for those that somebody has corrected or
 * withdrawn since. What the vehicle that stayed says goes back, unless it was changed since.
 */
export async function partVehicles(scope: OrganisationScope, parting: Parting): Promise<PartingResult> {
  const { unit, other, mergedAt, now, by } = parting
  await lockOrganisation(scope, 'records')
  const held = await holdVehicles(scope, [unit, other])
  const [stayed, gone] = [unit, other].map((number) => held.find(({ row }) => row.unit === number))
  const version = stayed && (await versionAt(scope, stayed, mergedAt))
  if (!stayed || stayed.withdrawn || !version || !gone || !(await wentAt(scope, gone, mergedAt)))
    return { ok: false, reason: 'not-found' }
  let stay = 0
  for (const kind of RECORD_KINDS) stay += await moveBack(scope, kind, stayed, gone, parting)
  if (version.isLast)
    await replaceVehicleRows(scope, [{ id: stayed.id, before: stayed.row, row: version.before }], { now, by })
  await scope.tx.$executeRaw`
    update vehicles set withdrawn_at = null, withdrawn_by = null where id = ${gone.id}::uuid`
  const touched = [unit, other]
  await touchVehicles(scope, touched)
  return { ok: true, touched, stay, factsStay: !version.isLast }
}

async function versionAt({ tx }: OrganisationScope, { id }: StoredVehicle, at: Date) {
  const [version] = await tx.$queryRaw<{ before: VehicleRow; isLast: boolean }[]>`
    select before, not exists (select from vehicle_versions later where later.vehicle_id = version.vehicle_id
      and later.replaced_at > version.replaced_at) as "isLast"
    from vehicle_versions version
    where vehicle_id = ${id}::uuid and replaced_at = ${at} and intake_id is null and before is not null`
  return version
}

async function wentAt({ tx }: OrganisationScope, { id }: StoredVehicle, at: Date): Promise<boolean> {
  const [found] = await tx.$queryRaw<{ went: boolean }[]>`
    select coalesce(withdrawn_at = ${at}, false) as went from vehicles where id = ${id}::uuid`
  return found?.went ?? false
}

/** @returns how many of the records that moved stay, because they are not what the merge made of them any more */
async function moveBack(
  { tx }: OrganisationScope,
  kind: RecordKind,
  { id: to }: StoredVehicle,
  { id: from }: StoredVehicle,
  { mergedAt, now, by }: Parting,
): Promise<number> {
  const at = mergedAt.toISOString()
  const [found] = await tx.$queryRawUnsafe<{ moved: number; back: number }[]>(
    `with moved as (
       select record.id, earlier.id as earlier, record.superseded_at is null and record.withdrawn_at is null as live
       from ${kind} record join ${kind} earlier on earlier.id = record.supersedes_id
       where record.vehicle_id = $1::uuid and record.entered_at = $2::timestamptz
         and earlier.vehicle_id = $3::uuid and earlier.superseded_at = $2::timestamptz
     ), taken as (
       update ${kind} record set withdrawn_at = $4::timestamptz, withdrawn_by = $5::uuid from moved
       where record.id = moved.id and moved.live returning moved.earlier
     ), enlivened as (
       update ${kind} record set superseded_at = null, superseded_by = null from taken where record.id = taken.earlier
       returning record.id
     )
     select (select count(*) from moved)::int as moved, (select count(*) from enlivened)::int as back`,
    to,
    at,
    from,
    now.toISOString(),
    by,
  )
  await tx.$executeRawUnsafe(
    `update ${kind} set withdrawn_at = null, withdrawn_by = null
     where vehicle_id = $1::uuid and withdrawn_at = $2::timestamptz and superseded_at is null`,
    from,
    at,
  )
  return (found?.moved ?? 0) - (found?.back ?? 0)
}

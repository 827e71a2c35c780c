import type { VehicleRow } from '@/lib/records/rows'
import { holdInOrder } from '../inner/hold-in-order'
import { lockOrganisation } from '../inner/locks'
import { restorePartLines, withdrawPartLines } from '../inner/part-lines-of-intake'
import { RECORD_KINDS, type RecordKind } from '../inner/record-tables'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows } from '../inner/vehicle-rows'
import type { IntakeSummary } from '../intake-summary'
import { forgetLibrary } from '../read/library-in-force'
import type { OrganisationScope } from '../with-organisation'

/** Which intake, who acts on it, and when. */
export type IntakeAct = { id: string; by: string | null; now: Date }

/** What was taken back, or brought back: rows of each kind, vehicles, and those that others have added to since. */
export type TakenBack = { records: number; vehicles: number; stay: number }

/**
 * Takes back everything that an intake brought, as if it had never been: its records are withdrawn, what they took the
 * place of is live again, vehicles say what they said before, and those that it made are withdrawn, but for vehicles
 * that have other records by now. What a person has corrected since stays.
 */
export async function takeBackIntake(scope: OrganisationScope, act: IntakeAct): Promise<TakenBack> {
  await lockOrganisation(scope, 'records')
  await holdInOrder(scope)
  const before = (await lastTakenBack(scope, act.id)) ?? NEVER
  const units: string[] = []
  let records = 0
  for (const kind of RECORD_KINDS) {
    const withdrawn = await withdrawRecords(scope, kind, act)
    records += withdrawn.length
    units.push(...withdrawn, ...(await enlivenEarlier(scope, kind, act)))
  }
  records += await withdrawPartLines(scope, act)
  const changed = await putVehiclesBack(scope, act, before)
  const made = await withdrawVehicles(scope, act, before)
  await swapLibrary(scope, act.id, 'back')
  await touchVehicles(scope, [...new Set([...units, ...changed, ...made.withdrawn])])
  await scope.tx.$executeRaw`
    update intakes set state = 'taken-back', taken_back_at = ${act.now} where id = ${act.id}::uuid`
  return { records, vehicles: changed.length + made.withdrawn.length, stay: made.stay }
}

/** Undoes that: everything is as if it had not been taken back, but for what others have brought in since. */
export async function bringIntakeBack(scope: OrganisationScope, act: IntakeAct): Promise<TakenBack> {
  await lockOrganisation(scope, 'records')
  await holdInOrder(scope)
  const takenBackAt = await lastTakenBack(scope, act.id)
  if (takenBackAt === null) return { records: 0, vehicles: 0, stay: 0 }
  const made = await restoreVehicles(scope, takenBackAt)
  const changed = await putVehiclesBack(scope, act, new Date(takenBackAt.getTime() - 1))
  const units: string[] = []
  let records = 0
  for (const kind of RECORD_KINDS) {
    units.push(...(await supersedeEarlier(scope, kind, act)))
    const restored = await restoreRecords(scope, kind, act)
    records += restored.length
    units.push(...restored)
  }
  records += await restorePartLines(scope, act.id)
  await swapLibrary(scope, act.id, 'again')
  await touchVehicles(scope, [...new Set([...units, ...changed, ...made])])
  await scope.tx.$executeRaw`update intakes set state = 'done' where id = ${act.id}::uuid`
  return { records, vehicles: changed.length + made.length, stay: 0 }
}

const NEVER = new Date(0)

const unitsOf = (rows: { unit: string }[]) => rows.map(({ unit }) => unit)
const UNIT = '(select unit from vehicles where vehicles.id = record.vehicle_id) as unit'

async function withdrawRecords({ tx }: OrganisationScope, kind: RecordKind, { id, by, now }: IntakeAct) {
  const rows = await tx.$queryRawUnsafe<{ unit: string }[]>(
    `update ${kind} record set withdrawn_at = $2::timestamptz, withdrawn_by = $3::uuid
     where intake_id = $1::uuid and superseded_at is null and withdrawn_at is null returning ${UNIT}`,
    id,
    now.toISOString(),
    by,
  )
  return unitsOf(rows)
}

/** The records that those of the intake took the place of: the nearest before each that it did not bring itself. */
const EARLIER = (kind: RecordKind) => `
  with recursive chain as (
    select supersedes_id as id from ${kind} where intake_id = $1::uuid and withdrawn_at = $2::timestamptz
    union all
    select own.supersedes_id from chain join ${kind} own on own.id = chain.id and own.intake_id = $1::uuid
  ), earlier as (
    select record.id from chain join ${kind} record on record.id = chain.id
    where record.intake_id is distinct from $1::uuid and record.withdrawn_at is null
  )`

/** Whether another live record says the same, or has the same key: then this one cannot count beside it. */
const CLASHES = (kind: RecordKind) => `exists (
  select from ${kind} other where other.superseded_at is null and other.withdrawn_at is null
    and other.sequence <> record.sequence
    and (other.content_hash = record.content_hash or other.ref = record.ref))`

async function enlivenEarlier({ tx }: OrganisationScope, kind: RecordKind, { id, now }: IntakeAct) {
  const rows = await tx.$queryRawUnsafe<{ unit: string }[]>(
    `${EARLIER(kind)}
     update ${kind} record set superseded_at = null, superseded_by = null from earlier
     where record.id = earlier.id and not ${CLASHES(kind)} returning ${UNIT}`,
    id,
    now.toISOString(),
  )
  return unitsOf(rows)
}

/** When the intake was taken back, to the instant: it marks what was withdrawn then. */
const TAKEN_BACK = '(select taken_back_at from intakes where id = $1::uuid)'

async function supersedeEarlier({ tx }: OrganisationScope, kind: RecordKind, { id, now }: IntakeAct) {
  const rows = await tx.$queryRawUnsafe<{ unit: string }[]>(
    `update ${kind} record set superseded_at = $2::timestamptz, superseded_by = own.id from ${kind} own
     where own.intake_id = $1::uuid and own.supersedes_id = record.id and record.superseded_at is null
       and record.withdrawn_at is null
       and exists (select from ${kind} top where top.sequence = own.sequence and top.intake_id = $1::uuid
         and top.withdrawn_at = ${TAKEN_BACK})
     returning ${UNIT}`,
    id,
    now.toISOString(),
  )
  return unitsOf(rows)
}

async function restoreRecords({ tx }: OrganisationScope, kind: RecordKind, { id }: IntakeAct) {
  const rows = await tx.$queryRawUnsafe<{ unit: string }[]>(
    `update ${kind} record set withdrawn_at = null, withdrawn_by = null
     where intake_id = $1::uuid and withdrawn_at = ${TAKEN_BACK} and superseded_at is null
       and not ${CLASHES(kind)}
       and not exists (select from ${kind} live where live.sequence = record.sequence and live.id <> record.id
         and live.superseded_at is null and live.withdrawn_at is null)
     returning ${UNIT}`,
    id,
  )
  return unitsOf(rows)
}

/** When the intake was last taken back; null where it never was. */
async function lastTakenBack({ tx }: OrganisationScope, id: string): Promise<Date | null> {
  const [found] = await tx.$queryRaw<{ at: Date | null }[]>`
    select taken_back_at as at from intakes where id = ${id}::uuid for update`
  return found?.at ?? null
}

/** What an intake said of a vehicle that has been taken back was never said: only other changes stand. */
const STANDS = (version: string) => `not exists (select from intakes other
  where other.id = ${version}.intake_id and other.state = 'taken-back')`

/**
 * Lets vehicles say again what they said before this intake changed them after an instant, where nobody else has
 * changed them since. What they say now is kept as a version of the same intake, so that this can be undone likewise.
 */
async function putVehiclesBack(
  scope: OrganisationScope,
  { id, by, now }: IntakeAct,
  after: Date,
): Promise<string[]> {
  const versions = await scope.tx.$queryRawUnsafe<{ unit: string; vehicleId: string; before: VehicleRow }[]>(
    `select distinct on (vehicle_id) vehicle.unit, vehicle_id::text as "vehicleId", before
    from vehicle_versions version join vehicles vehicle on vehicle.id = vehicle_id
    where version.intake_id = $1::uuid and before is not null and replaced_at > $2::timestamptz
      and not exists (select from vehicle_versions later where later.vehicle_id = version.vehicle_id
        and later.intake_id is distinct from version.intake_id and later.replaced_at > version.replaced_at
        and ${STANDS('later')})
    order by vehicle_id, replaced_at`,
    id,
    after.toISOString(),
  )
  const held = await holdVehicles(scope, unitsOf(versions))
  const before = new Map(versions.map((version) => [version.vehicleId, version.before]))
  const changes = held.flatMap(({ id: vehicleId, withdrawn, row }) => {
    const earlier = before.get(vehicleId)
    return earlier && !withdrawn ? [{ id: vehicleId, before: row, row: earlier }] : []
  })
  await replaceVehicleRows(scope, changes, { now, by, intake: id })
  return changes.map(({ row }) => row.unit)
}

const NO_RECORDS = RECORD_KINDS.map(
  (kind) => `not exists (select from ${kind} where vehicle_id = vehicle.id
    and superseded_at is null and withdrawn_at is null)`,
).join(' and ')

/** Withdraws the vehicles that the intake made, but for those of which others have said something. */
async function withdrawVehicles({ tx }: OrganisationScope, { id, by, now }: IntakeAct, after: Date) {
  const made = `(vehicle.intake_id = $1::uuid or exists (select from vehicle_versions where vehicle_id = vehicle.id
    and intake_id = $1::uuid and before is null and replaced_at > $2::timestamptz))`
  const rows = await tx.$queryRawUnsafe<{ unit: string }[]>(
    `update vehicles vehicle set withdrawn_at = $3::timestamptz, withdrawn_by = $4::uuid
     where ${made} and withdrawn_at is null and ${NO_RECORDS}
       and not exists (select from vehicle_versions later where later.vehicle_id = vehicle.id
         and later.intake_id is distinct from $1::uuid and later.replaced_at > vehicle.entered_at
         and ${STANDS('later')})
     returning unit`,
    id,
    after.toISOString(),
    now.toISOString(),
    by,
  )
  for (const table of ['vehicle_scores', 'component_scores'])
    await tx.$executeRawUnsafe(
      `delete from ${table} where vehicle_id in (select id from vehicles where withdrawn_at = $1::timestamptz)`,
      now.toISOString(),
    )
  const [left] = await tx.$queryRawUnsafe<{ stay: number }[]>(
    `select count(*)::int as stay from vehicles vehicle where vehicle.intake_id = $1::uuid and withdrawn_at is null`,
    id,
  )
  return { withdrawn: unitsOf(rows), stay: left?.stay ?? 0 }
}

async function restoreVehicles({ tx }: OrganisationScope, takenBackAt: Date): Promise<string[]> {
  const rows = await tx.$queryRaw<{ unit: string }[]>`
    update vehicles set withdrawn_at = null, withdrawn_by = null where withdrawn_at = ${takenBackAt} returning unit`
  return unitsOf(rows)
}

/** Puts the library before, or the one that the intake brought, in force, unless somebody put another one since. */
async function swapLibrary(scope: OrganisationScope, id: string, way: 'back' | 'again'): Promise<void> {
  const { tx } = scope
  forgetLibrary(scope)
  const [intake] = await tx.$queryRaw<{ library: IntakeSummary['library'] }[]>`
    select summary->'library' as library from intakes where id = ${id}::uuid`
  const { before, put } = intake?.library ?? { before: null, put: null }
  const [from, to] = way === 'back' ? [put, before] : [before, put]
  const left = await tx.$executeRaw`
    update libraries set in_force = false where in_force and version = ${from}::int`
  if (left === 1 || from === null)
    await tx.$executeRaw`
    update libraries set in_force = true where version = ${to}::int and not exists (
      select from libraries where in_force)`
}

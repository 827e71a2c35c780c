import type { Records } from '@/lib/records/rows'
import { dayOfRecord } from '@/lib/records/vehicle-records'
import { type Day, formatDay } from '@/lib/units/dates'
import { lockOrganisation } from '../inner/locks'
import { touchVehicles } from '../inner/touch-vehicles'
import { holdVehicles, replaceVehicleRows, type StoredVehicle } from '../inner/vehicle-rows'
import { hasOpenStop, withdrawVehicle } from '../inner/withdraw-vehicle'
import { readVehicleRecords } from '../read/vehicle-records'
import type { OrganisationScope } from '../with-organisation'
import { addRecords } from './add-records'
import { takeBackEntry } from './take-back-entry'

/** A number, the records of the vehicle that it goes to, its own row among them, and who gives it when. */
export type NumberPassedOn = {
  unit: string
  records: Omit<Records, 'settings'>
  today: Day
  now: Date
  by: string
}

/** What came of it; `former` is what the earlier vehicle is called now, or was until then. */
export type NumberResult =
  | { ok: true; touched: string[]; former: string }
  | { ok: false; reason: 'not-found' | 'not-gone' | 'changed-since' }

/**
 * Gives the number of a vehicle that was sold or retired to a new one. The earlier keeps its records, under
 * `NUMBER (until DATE)`: the day on which it left, or else of its last record. A file that brings its records in once
 * more, under the number as it was, is known and goes to neither.
 */
export async function passOnNumber(
  scope: OrganisationScope,
  { unit, records, today, now, by }: NumberPassedOn,
): Promise<NumberResult> {
  await lockOrganisation(scope, 'records')
  const [held] = await holdVehicles(scope, [unit])
  if (!held || held.withdrawn) return { ok: false, reason: 'not-found' }
  if (held.row.status !== 'sold' && held.row.status !== 'retired') return { ok: false, reason: 'not-gone' }
  const former = await freeNumber(scope, `${unit} (until ${formatDay(await leftOn(scope, held, today))})`)
  await replaceVehicleRows(scope, [{ id: held.id, before: held.row, row: held.row }], { now, by })
  await rename(scope, held.id, former)
  const added = await addRecords(scope, records, { now, by })
  await touchVehicles(scope, [former])
  return { ok: true, touched: [...added.touched, former], former }
}

/** Which number was passed on, when, and by whom. */
export type NumberGiven = { unit: string; passedOnAt: Date; by: string }

/**
 * Undoes that: the new vehicle is withdrawn with what was entered with it, and the earlier has its number back. Where
 * anything else has been recorded or changed of the new one since, or it must not be driven, nothing is done.
 */
export async function takeNumberBack(
  scope: OrganisationScope,
  { unit, passedOnAt, by }: NumberGiven,
  now: Date,
): Promise<NumberResult> {
  await lockOrganisation(scope, 'records')
  const former = await formerNumber(scope, { unit, passedOnAt, by })
  const held = await holdVehicles(scope, former === null ? [] : [unit, former])
  const [fresh, earlier] = [unit, former].map((number) => held.find(({ row }) => row.unit === number))
  if (former === null || !fresh || fresh.withdrawn || !earlier) return { ok: false, reason: 'not-found' }
  if (!(await isAsEntered(scope, fresh, { unit, passedOnAt, by })))
    return { ok: false, reason: 'changed-since' }
  await takeBackEntry(scope, { unit, enteredAt: passedOnAt, by }, now)
  await withdrawVehicle(scope, fresh, { now, by })
  await rename(scope, fresh.id, await freeNumber(scope, `${unit} (taken back ${now.toISOString()})`))
  await rename(scope, earlier.id, unit)
  await touchVehicles(scope, [unit])
  return { ok: true, touched: [unit], former }
}

async function leftOn(scope: OrganisationScope, { row }: StoredVehicle, today: Day): Promise<Day> {
  const left = row.soldOn ?? row.leftOn
  if (left !== null) return left
  const records = (await readVehicleRecords(scope, row.unit)).filter(({ state }) => state === 'live')
  return (
    records.reduce<Day | null>((last, record) => Math.max(last ?? -Infinity, dayOfRecord(record)), null) ??
    today
  )
}

/** The number, or where another vehicle has it, with a count behind it. */
async function freeNumber({ tx }: OrganisationScope, wanted: string): Promise<string> {
  const taken = await tx.$queryRaw<{ unit: string }[]>`
    select unit from vehicles where unit = ${wanted} or starts_with(unit, ${`${wanted} `})`
  const units = new Set(taken.map(({ unit }) => unit))
  for (let count = 2, number = wanted; ; number = `${wanted} ${count++}`)
    if (!units.has(number)) return number
}

async function rename({ tx }: OrganisationScope, id: string, unit: string): Promise<void> {
  await tx.$executeRaw`update vehicles set unit = ${unit} where id = ${id}::uuid`
}

/** What the vehicle is called now that had the number before it was passed on; null where there is none. */
async function formerNumber({ tx }: OrganisationScope, { unit, passedOnAt, by }: NumberGiven) {
  const [found] = await tx.$queryRaw<{ unit: string }[]>`
    select vehicle.unit from vehicle_versions version join vehicles vehicle on vehicle.id = version.vehicle_id
    where version.replaced_at = ${passedOnAt} and version.replaced_by = ${by}::uuid
      and version.before->>'unit' = ${unit} and vehicle.unit <> ${unit}`
  return found?.unit ?? null
}

/** Whether nothing has come to a new vehicle but what was entered with it. */
async function isAsEntered(
  scope: OrganisationScope,
  vehicle: StoredVehicle,
  { unit, passedOnAt }: NumberGiven,
): Promise<boolean> {
  const records = await readVehicleRecords(scope, unit)
  const others = records.filter(({ state, enteredAt }) => state === 'live' && +enteredAt !== +passedOnAt)
  const [row] = await scope.tx.$queryRaw<{ isNew: boolean }[]>`
    select entered_at = ${passedOnAt} and not exists (
      select from vehicle_versions where vehicle_id = vehicle.id) as "isNew"
    from vehicles vehicle where id = ${vehicle.id}::uuid`
  return others.length === 0 && row?.isNew === true && !(await hasOpenStop(scope, vehicle))
}

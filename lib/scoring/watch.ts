/** From when a vehicle's records speak, and whether the time before is known. */
import { isKnownBy } from '@/lib/records/known-by'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'

export interface Watch {
  /** First day of the vehicle: at 0 km. Estimated from its distance and rate where no row says it. */
  bornOn: Day
  /** When the watch begins; null where it began when the vehicle was new. */
  from: Day | null
  /** Whether nothing is known of the time before. */
  unknown: boolean
}

export function watchOf(records: VehicleRecords, clock: VehicleClock, asOf: Day): Watch {
  const { vehicle } = records
  const first = firstRecordOn(records, asOf) ?? asOf
  const from = Math.min(watchedFrom(records, clock, first, asOf) ?? first, asOf)
  const born = vehicle.inServiceOn ?? vehicle.builtOn ?? bornBefore(first, clock)
  const unknown = vehicle.history === 'none'
  const fromNew = !unknown && vehicle.watchedFromOn === null && vehicle.watchedFromKm === null
  return { bornOn: Math.min(born, first, from), from: fromNew ? null : from, unknown }
}

/** The first day on record, of what was known on the as-of date. */
function firstRecordOn(records: VehicleRecords, asOf: Day): Day | null {
  const first = <Row extends { enteredOn: Day | null }>(rows: Row[], dayOf: (row: Row) => Day): Day[] => {
    const row = rows.find((each) => isKnownBy(asOf, dayOf(each), each.enteredOn))
    return row ? [dayOf(row)] : []
  }
  const days = [
    ...first(records.readings, (row) => row.readOn),
    ...first(records.codes, (row) => row.seenOn),
    ...first(records.checks, (row) => row.checkedOn),
    ...first(records.repairs, (row) => row.doneOn),
    ...first(records.changes, (row) => row.on),
  ]
  return days.length > 0 ? Math.min(...days) : null
}

/** The last day on record, whenever it was entered. */
export function lastRecordOn(records: VehicleRecords): Day | null {
  const days = [
    records.readings.at(-1)?.readOn,
    records.codes.at(-1)?.seenOn,
    records.checks.at(-1)?.checkedOn,
    records.repairs.at(-1)?.doneOn,
    records.changes.at(-1)?.on,
  ].filter((day) => day !== undefined)
  return days.length > 0 ? Math.max(...days) : null
}

/** A vehicle whose first day no row says: its distance at its own rate before its first record. */
function bornBefore(first: Day, clock: VehicleClock): Day {
  const km = clock.kmAt(first)
  return first - (clock.standing ? 0 : Math.min(Math.round(clock.daysForKm(km)), MOST_DAYS))
}

/** Thirty years: an older engine's calendar age says no more. */
const MOST_DAYS = 11_000

function watchedFrom(records: VehicleRecords, clock: VehicleClock, first: Day, asOf: Day): Day | null {
  const { watchedFromOn, watchedFromKm } = records.vehicle
  if (watchedFromOn !== null || watchedFromKm === null) return watchedFromOn
  let low = first
  let high = asOf
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    if (clock.kmAt(middle) >= watchedFromKm) high = middle
    else low = middle + 1
  }
  return low
}

import { theilSen } from '@/lib/model/theil-sen'
import { longestTrustedChain } from '@/lib/model/trusted-chain'
import type { Day } from '@/lib/units/dates'
import { countUpTo, interpolate, type Line } from './inner/interpolate'
import { isKnownBy } from './known-by'
import { ODOMETER_SETTINGS, type OdometerSettings } from './odometer-settings'
import type { Odometer } from './trusted-odometer'
import type { Usage } from './usage'
import type { VehicleRecords } from './vehicle-records'

/** Distance and engine hours of one vehicle on any day, past or to come. */
export interface VehicleClock {
  asOf: Day
  usage: Usage
  standing: boolean
  /** The last odometer that is trusted; null for a vehicle without any. */
  lastTrusted: { day: Day; km: number } | null
  /** Odometer in km; never falls from a day to a later one. */
  kmAt(day: Day): number
  /** Engine hours; never fall. */
  hoursAt(day: Day): number
  /** Whether the odometer of that day is estimated, not read. */
  estimatedOn(day: Day): boolean
  /** What the vehicle adds in so many days from now on, at its median rate. */
  ahead(days: number): { km: number; hours: number }
  /** Days in which it covers so many km; at most 3,000 for a vehicle that stands. */
  daysForKm(km: number): number
}

/**
 * Builds the clock. Between trusted readings the odometer is interpolated; after the last it goes on at the
 * rate of use. Before the first it goes back to 0 on the day of being put into service (or built), else back
 * at the vehicle's mean rate, never below 0. A vehicle without readings starts at 0 km when it was put into
 * service, built, or first on record.
 *
 * Records without an odometer, or with a distrusted one, take `kmAt` of their day; so may all others, because
 * a trusted reading is what `kmAt` answers on its day. One look-up is O(log n).
 */
export function vehicleClock(
  records: VehicleRecords,
  odometer: Odometer,
  usage: Usage,
  asOf: Day,
  settings: OdometerSettings = ODOMETER_SETTINGS,
): VehicleClock {
  const { day, km } = odometer.trusted
  const kmAt = distanceClock(records, odometer, usage)
  const hours = hoursClock(records, odometer, usage, kmAt, settings)
  const last = day.length - 1
  return {
    asOf,
    usage,
    standing: usage.standing,
    lastTrusted: last < 0 ? null : { day: day[last]!, km: km[last]! },
    kmAt,
    hoursAt: hours.at,
    estimatedOn: (at) => day[countUpTo(day, at) - 1] !== at,
    ahead: (days) => ({ km: usage.kmPerDay * days, hours: hours.perDay * days }),
    daysForKm: (distanceKm) => {
      const days = distanceKm / usage.kmPerDay
      return usage.standing ? Math.min(days, settings.standingHorizonDays) : days
    },
  }
}

type At = (day: Day) => number

function distanceClock(records: VehicleRecords, odometer: Odometer, usage: Usage): At {
  const { trusted, upTo } = odometer
  const isRead = trusted.day.length > 0
  const line = withStart(trusted, odometer.startOn ?? (isRead ? null : firstDayOnRecord(records, upTo)))
  const last = line.x.length - 1
  const [firstDay, lastDay] = [line.x[0]!, line.x[last]!]
  const [firstKm, lastKm] = [line.y[0]!, line.y[last]!]
  const meanRate = lastDay > firstDay ? (lastKm - firstKm) / (lastDay - firstDay) : usage.kmPerDay
  return (day) => {
    if (day >= lastDay) return lastKm + usage.kmPerDay * (day - lastDay)
    if (day >= firstDay) return interpolate(line, day)
    return Math.max(0, firstKm - meanRate * (firstDay - day))
  }
}

/** The trusted readings, after the day at 0 km where that is known. */
function withStart({ day, km }: Odometer['trusted'], startOn: Day | null): Line {
  return startOn === null ? { x: day, y: km } : { x: [startOn, ...day], y: [0, ...km] }
}

/** Where a vehicle without a single odometer is taken to begin, at 0 km. */
function firstDayOnRecord({ vehicle, readings, codes, checks, repairs }: VehicleRecords, upTo: Day): Day {
  const days = [readings[0]?.readOn, codes[0]?.seenOn, checks[0]?.checkedOn, repairs[0]?.doneOn]
  return vehicle.watchedFromOn ?? Math.min(upTo, ...days.filter((day) => day !== undefined))
}

/**
 * Engine hours: readings that carry them, trusted as odometers are; after the last, at their own recent rate
 * or else by distance; before the first, in proportion to distance. Without any, distance over the class's km
 * per hour.
 */
function hoursClock(
  records: VehicleRecords,
  odometer: Odometer,
  usage: Usage,
  kmAt: At,
  settings: OdometerSettings,
): { at: At; perDay: number } {
  const line = trustedHours(records, odometer.upTo, settings.capHoursPerDay)
  const last = line.x.length - 1
  const kmPerHour = ownKmPerHour(line, kmAt) ?? settings.kmPerHour[records.vehicle.duty]
  const byDistance = usage.kmPerDay / kmPerHour
  if (last < 0) return { at: (day) => kmAt(day) / kmPerHour, perDay: byDistance }
  const recent = recentHoursPerDay(line, odometer.upTo, settings)
  const [firstDay, lastDay] = [line.x[0]!, line.x[last]!]
  const [firstHours, lastHours] = [line.y[0]!, line.y[last]!]
  const [firstKm, lastKm] = [kmAt(firstDay), kmAt(lastDay)]
  const at = (day: Day): number => {
    if (day >= lastDay) {
      return lastHours + (recent === null ? (kmAt(day) - lastKm) / kmPerHour : recent * (day - lastDay))
    }
    if (day >= firstDay) return interpolate(line, day)
    return firstKm > 0 ? (firstHours * kmAt(day)) / firstKm : 0
  }
  return { at, perDay: recent ?? byDistance }
}

type Hours = { x: Float64Array; y: Float64Array }

/** Engine hours known by `upTo`: the longest chain of them, each day once. */
function trustedHours(records: VehicleRecords, upTo: Day, capHoursPerDay: number): Hours {
  const read = records.readings.filter(
    (row) => row.engineHours !== null && isKnownBy(upTo, row.readOn, row.enteredOn),
  )
  const day = Float64Array.from(read, (row) => row.readOn)
  const hours = Float64Array.from(read, (row) => row.engineHours ?? 0)
  const chain = longestTrustedChain(day, hours, capHoursPerDay)
  const daily = chain.filter((i, k) => k === 0 || day[i] !== day[chain[k - 1]!])
  return { x: Float64Array.from(daily, (i) => day[i]!), y: Float64Array.from(daily, (i) => hours[i]!) }
}

/**
 * Fewer hours than these say nothing about km per hour, and what lies outside these bounds is no road
 * vehicle's.
 */
const LEAST_HOURS = 50
const CREDIBLE_KM_PER_HOUR = [1, 150] as const

/** Distance per hour between the first and the last engine hours, or up to the only one. */
function ownKmPerHour({ x, y }: Hours, kmAt: At): number | null {
  const last = x.length - 1
  if (last < 0) return null
  const spanHours = y[last]! - y[0]!
  const ratio =
    spanHours >= LEAST_HOURS
      ? (kmAt(x[last]!) - kmAt(x[0]!)) / spanHours
      : kmAt(x[last]!) / Math.max(y[last]!, LEAST_HOURS)
  const [lowest, highest] = CREDIBLE_KM_PER_HOUR
  return ratio >= lowest && ratio <= highest ? ratio : null
}

/**
 * Hours per day over the last 180 days, where their readings span at least 30; so a vehicle that idles still
 * ages.
 */
function recentHoursPerDay({ x, y }: Hours, asOf: Day, settings: OdometerSettings): number | null {
  const first = countUpTo(x, asOf - settings.rateDays - 1)
  if (first >= x.length || x[x.length - 1]! - x[first]! < settings.rateLeastSpanDays) return null
  const fit = theilSen(x.subarray(first), y.subarray(first))
  return fit.ok ? fit.slope : null
}

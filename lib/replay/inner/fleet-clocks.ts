import { isScored } from '@/lib/decisions/score-fleet'
import type { Records } from '@/lib/records/rows'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import { clockOf, type FleetVehicle, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'

/** One vehicle on a day, with how far it has come: what every forecaster of that day begins from. */
export interface VehicleThen extends FleetVehicle {
  clock: VehicleClock
  /** Whether it is one of those that are scored. */
  scored: boolean
}

/** All vehicles of these records on a day. */
export const fleetOn = (records: Records, asOf: Day): VehicleThen[] =>
  fleetVehicles(records, asOf).map((one) => {
    const clocked = clockOf(one, asOf)
    return { ...one, clocked, clock: clocked.clock, scored: isScored(one.records, one.odometer, asOf) }
  })

/** A clock's reading on a day. */
export const readingOn = (clock: VehicleClock, kind: 'distance' | 'hours' | 'time', day: Day): number =>
  ({ distance: clock.kmAt, hours: clock.hoursAt, time: (on: Day) => on })[kind](day)

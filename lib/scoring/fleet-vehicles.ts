/** The vehicles of a fleet with what following them needs: trusted odometers, use of their class. */
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import type { Records } from '@/lib/records/rows'
import { type Odometer, trustOdometer } from '@/lib/records/trusted-odometer'
import {
  type ClassRate,
  classRateOf,
  classRates,
  type Usage,
  usageFacts,
  usageRate,
} from '@/lib/records/usage'
import { type VehicleClock, vehicleClock } from '@/lib/records/vehicle-clock'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'

export interface FleetVehicle {
  records: VehicleRecords
  odometer: Odometer
  /** How vehicles of its class are used. */
  classRate: ClassRate
  /** Its use and its clocks, where they were found out before. */
  clocked?: Clocked
}

export interface Clocked {
  usage: Usage
  clock: VehicleClock
}

/** Every vehicle on record, as of a day. */
export function fleetVehicles(records: Records, asOf: Day): FleetVehicle[] {
  const fleet = groupByVehicle(records).map((one) => ({ records: one, odometer: odometerOf(one, asOf) }))
  const rates = classRates(
    fleet.flatMap(({ records: { vehicle }, odometer }) => usageFacts(vehicle, odometer, asOf) ?? []),
  )
  return fleet.map((one) => ({ ...one, classRate: classRateOf(rates, one.records.vehicle) }))
}

/** A vehicle's trusted odometer as of a day. */
export const odometerOf = (records: VehicleRecords, asOf: Day): Odometer =>
  trustOdometer(records, { capKmPerDay: ODOMETER_SETTINGS.capKmPerDay, upTo: asOf })

/** How a vehicle is used, and its clocks on any day. */
export function clockOf({ records, odometer, classRate, clocked }: FleetVehicle, asOf: Day): Clocked {
  if (clocked?.clock.asOf === asOf) return clocked
  const usage = usageRate(odometer, asOf, classRate, { stock: records.vehicle.status !== 'active' })
  return { usage, clock: vehicleClock(records, odometer, usage, asOf) }
}

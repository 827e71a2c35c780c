/**
 * A seeded world that obeys the model, lived independently of the product's code: what it writes down are
 * records, and it keeps what nobody in it knows.
 */
import type { Library } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { type Network, networkOf } from './network'
import { type Random, seeded } from './random'
import { readingRow, recordsOf, vehicleRow } from './record-rows'
import { type Truth, truthAsStated } from './truth'
import { advanceLives, type Duty, type Life, startVehicle, stateOf, type VehicleLife } from './vehicle-life'
import { type Habits, openWorkshop, usualHabits } from './workshop'

export type WorldPlan = {
  seed: number
  library: Library
  vehicles: number
  /** The first vehicle goes into service then, the last `spreadDays` later. */
  firstDay: Day
  spreadDays: number
  lastDay: Day
  /** Days at whose end the truth is kept. */
  snapshots: Day[]
  habits?: Habits
  /** By family key; the library's own words where it is left out. */
  truths?: Map<string, Truth>
  /** What is true of some vehicles only, by their number. */
  truthOf?: (vehicle: number, truth: Truth) => Truth
  /** How much more than on the mean a vehicle is used on a day. */
  season?: (day: Day) => number
}

/** The true state of one vehicle at the end of a day. */
export type Snapshot = {
  unit: string
  day: Day
  odometerKm: number
  /** Its true mean use over the coming 90 days. */
  kmPerDay: number
  duty: Duty
  network: Network
  truth: Truth
  /** One a part, in the order of `network.parts`. */
  lives: Life[]
}

export type World = { library: Library; records: Records; snapshots: Snapshot[] }

const DUTIES: Duty[] = ['short', 'mixed', 'long']

export function simulateWorld(plan: WorldPlan): World {
  const random = seeded(plan.seed)
  const records = recordsOf({})
  const networks = plan.library.families.map(networkOf)
  const snapshots: Snapshot[] = []
  for (let n = 0; n < plan.vehicles; n++) {
    const network = networks[n % networks.length]
    if (!network) throw new Error('a world needs an engine family')
    const common = plan.truths?.get(network.family.key) ?? truthAsStated(network.family)
    const truth = plan.truthOf?.(n, common) ?? common
    const unit = `V${String(n + 1).padStart(4, '0')}`
    liveVehicle(unit, network, truth, plan, records, snapshots, seeded(random.below(2 ** 31)))
  }
  return { library: plan.library, records, snapshots }
}

function liveVehicle(
  unit: string,
  network: Network,
  truth: Truth,
  plan: WorldPlan,
  records: Records,
  snapshots: Snapshot[],
  random: Random,
) {
  const duty = DUTIES[random.below(3)]!
  const firstDay = plan.firstDay + random.below(plan.spreadDays + 1)
  const kmPerDay = 70 * Math.exp(0.35 * random.normal())
  const vehicle = startVehicle(network, truth, duty, firstDay, random)
  const endOfDay = openWorkshop(unit, vehicle, network, plan.habits ?? usualHabits, records, random)
  records.vehicles.push(
    vehicleRow({ unit, family: network.family.key, duty, builtOn: firstDay, inServiceOn: firstDay }),
  )
  records.readings.push(readingRow({ unit, readOn: firstDay, odometerKm: 0 }))
  while (vehicle.day < plan.lastDay) {
    // whole kilometres, so that the odometer written down is the true one
    const seasonal = kmPerDay * (plan.season?.(vehicle.day) ?? 1)
    vehicle.drive(Math.round(seasonal * (0.5 + random.uniform())))
    endOfDay()
    if (plan.snapshots.includes(vehicle.day)) {
      const ahead = kmPerDay * seasonAhead(plan.season, vehicle.day)
      snapshots.push(snapshotOf(unit, ahead, vehicle, network, truth))
    }
  }
}

const DAYS_AHEAD = 90

function seasonAhead(season: WorldPlan['season'], day: Day): number {
  if (!season) return 1
  const days = Array.from({ length: DAYS_AHEAD }, (_, i) => season(day + i))
  return days.reduce((sum, each) => sum + each, 0) / DAYS_AHEAD
}

function snapshotOf(
  unit: string,
  kmPerDay: number,
  vehicle: VehicleLife,
  network: Network,
  truth: Truth,
): Snapshot {
  const lives = vehicle.lives.map((life) => ({ ...life }))
  const { day, km: odometerKm, duty } = vehicle
  return { unit, day, odometerKm, kmPerDay, duty, network, truth, lives }
}

/** Which parts truly fail in the next `days` of mean use if nobody does anything; one answer a part. */
export function failsWithin(snapshot: Snapshot, days: number): boolean[] {
  const lives = snapshot.lives.map((life) => ({ ...life }))
  for (let day = 0; day < days; day++) {
    advanceLives(snapshot.network, lives, snapshot.duty, snapshot.kmPerDay, 1)
  }
  return lives.map((life) => stateOf(life) === 'failed')
}

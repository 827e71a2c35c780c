/** What a workshop without any model goes by: the odometer alone, or fixed service intervals. */
import type { Family, WeakPoint } from '@/lib/records/library'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import { watchOf } from '@/lib/scoring/watch'
import type { Day } from '@/lib/units/dates'
import { type WatchedLife, watchedLives } from './inner/component-works'
import { readingOn, type VehicleThen } from './inner/fleet-clocks'
import { StepRates, type Stretch } from './step-rates'

/** Classes of the odometer, km. */
const MILEAGE_BOUNDS = Array.from({ length: 15 }, (_, k) => 20_000 * (k + 1))

/** Where the library states no interval: the age by which one in ten begins to go (common practice, no source). */
const intervalOf = ({ renewEvery, onset }: WeakPoint): number => renewEvery ?? onset.p10

/** One component with the lives that were watched until the cut-off, on the two scales. */
interface Seen {
  unit: string
  position: number
  mileage: Stretch[]
  age: Stretch[]
  /** Where it stands now, and will stand at the end of the horizon, if it is at work. */
  ahead: { mileage: [number, number]; age: [number, number] } | null
}

export interface PlainChances {
  mileage: number
  intervals: number
}

/** By vehicle, weak point and position; nothing for a part that waits for its repair. */
export type PlainForecasts = (unit: string, weakPoint: string, position: number) => PlainChances | undefined

/**
 * The chances of one family's components by either rule, fitted on what was on record at the cut-off.
 *
 * @param fleet the vehicles of the family, rewound
 */
export function plainChances(
  family: Family,
  fleet: readonly VehicleThen[],
  cutOff: Day,
  days: number,
): PlainForecasts {
  const chances = new Map<string, PlainChances>()
  for (const weakPoint of family.weakPoints) {
    const seen = fleet.flatMap((vehicle) => componentsSeen(vehicle, weakPoint, cutOff, days))
    const byMileage = new StepRates(
      seen.flatMap((each) => each.mileage),
      MILEAGE_BOUNDS,
    )
    const byAge = new StepRates(
      seen.flatMap((each) => each.age),
      [intervalOf(weakPoint)],
    )
    for (const { unit, position, ahead } of seen) {
      if (!ahead) continue
      chances.set(keyOf(unit, weakPoint.key, position), {
        mileage: byMileage.chance(...ahead.mileage),
        intervals: byAge.chance(...ahead.age),
      })
    }
  }
  return (unit, weakPoint, position) => chances.get(keyOf(unit, weakPoint, position))
}

const keyOf = (unit: string, weakPoint: string, position: number): string =>
  JSON.stringify([unit, weakPoint, position])

function componentsSeen(vehicle: VehicleThen, weakPoint: WeakPoint, cutOff: Day, days: number): Seen[] {
  const { records, clock } = vehicle
  const watch = watchOf(records, clock, cutOff)
  const from = watch.from ?? watch.bornOn
  const ageOn = ageClock(clock, weakPoint, watch.bornOn)
  return Array.from({ length: weakPoint.positions }, (_, i) => {
    const place = { weakPoint: weakPoint.key, position: i + 1 }
    const lives = watchedLives(records, place, from, cutOff)
    const stretches = (on: (day: Day, life: WatchedLife) => number): Stretch[] =>
      lives.map((life) => ({ from: on(life.from, life), to: on(life.to, life), failed: life.failed }))
    const last = lives.at(-1)
    const { km, hours } = clock.ahead(days)
    const step = { distance: km, hours, time: days }[weakPoint.clock]
    const now = last && !last.failed ? { km: clock.kmAt(cutOff), age: ageOn(cutOff, last) } : null
    return {
      unit: records.vehicle.unit,
      position: place.position,
      mileage: stretches((day) => clock.kmAt(day)),
      age: stretches(ageOn),
      ahead: now && { mileage: [now.km, now.km + km], age: [now.age, now.age + step] },
    }
  })
}

/** The age of the part in a life, on the weak point's clock. */
function ageClock(
  clock: VehicleClock,
  weakPoint: WeakPoint,
  bornOn: Day,
): (day: Day, life: WatchedLife) => number {
  const reading = (day: Day) => readingOn(clock, weakPoint.clock, day)
  const atBirth = weakPoint.clock === 'time' ? bornOn : 0
  return (day, { newOn }) => reading(day) - (newOn === null ? atBirth : reading(newOn))
}

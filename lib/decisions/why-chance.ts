/**
 * Why a component's chance is what it is: exact re-computations by the scorer itself, never a surrogate. Steps from
 * the library to this vehicle, which add up to the score; and the chance without each single record, which do not.
 */
import { isKnownBy } from '@/lib/records/known-by'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import { dayOfRecord, listRecords, type OneRecord, type VehicleRecords } from '@/lib/records/vehicle-records'
import type { Horizon } from '@/lib/scoring/ahead'
import { clockOf, type FleetVehicle, odometerOf } from '@/lib/scoring/fleet-vehicles'
import { chancesWithin } from '@/lib/scoring/score-components'
import type { ClockReading } from '@/lib/scoring/vehicle-belief'
import { watchOf } from '@/lib/scoring/watch'
import type { Day } from '@/lib/units/dates'
import type { VehicleScorer } from './score-fleet'

/** From the library to this vehicle, in the order in which they are taken. */
export const CHANCE_STEPS = ['library', 'learned', 'ages', 'repairs', 'signs'] as const
export type ChanceStep = (typeof CHANCE_STEPS)[number]

/** A step, and what it did to the chance. */
export interface StepTaken {
  step: ChanceStep
  /** Null for the first, which starts from nothing. */
  before: number | null
  /** After it. */
  chance: number
  change: number
}

/** Why one component's chance is what it is. */
export interface WhyComponent {
  weakPoint: string
  position: number
  /** One a step; the last chance is the score, and the changes add up to it. */
  steps: StepTaken[]
  /** The sign that speaks for it; null where none does. */
  seen: string | null
}

/** Who scores: on what is in force, and on the library alone (the same scorer where nothing was learned). */
export interface Scorers {
  inForce: VehicleScorer
  stated: VehicleScorer
}

/**
 * The steps of every component of one vehicle, in the order of its scores:
 *
 * 1. `library`: as the library states it, for the typical vehicle of its class (`typicalVehicle`).
 * 2. `learned`: the same under the fit in force. Where nothing was learned of a weak point, nor of one upstream of
 *    it, the first figure again.
 * 3. `ages`: this vehicle's clocks and what is known of its beginnings (a changed engine, a gap in the records), with
 *    its repairs, codes and looks kept back.
 * 4. `repairs`: after its repairs, with what each of them found.
 * 5. `signs`: after its codes and looks: the score.
 *
 * A code or a repair with an odometer is a reading as well: the clocks of steps 3 to 5 are those of all records.
 *
 * @returns none where the library does not know the engine
 */
export function chanceSteps(one: FleetVehicle, horizon: Horizon, scorers: Scorers): WhyComponent[] {
  const { inForce, stated } = scorers
  const typical = typicalVehicle(one, inForce.asOf)
  const score = inForce.chances(one, horizon)
  const library = stated.chances(typical, horizon)
  const chancesAfter = {
    library,
    learned: inForce === stated ? library : inForce.chances(typical, horizon),
    ages: inForce.chances(one, horizon, { codes: [], checks: [], repairs: [] }),
    repairs: inForce.chances(one, horizon, { ...one.records, codes: [], checks: [] }),
    signs: score,
  }
  return score.components.map(({ weakPoint, position }, c) => ({
    weakPoint,
    position,
    steps: CHANCE_STEPS.map((step, i) => {
      const last = CHANCE_STEPS[i - 1]
      const before = last ? chancesAfter[last].components[c]!.pFail : null
      const chance = chancesAfter[step].components[c]!.pFail
      return { step, before, chance, change: chance - (before ?? 0) }
    }),
    seen: score.seen(c),
  }))
}

/** How far this vehicle's engine has come by the as-of date, and the typical one's of its class. */
export interface Ages {
  own: ClockReading
  typical: ClockReading
  /** When this vehicle's engine was last changed; null where it never was. */
  engineChangedOn: Day | null
}

/** What step `ages` is the difference of: distance, engine hours, days since the vehicle's first. */
export function agesOf(one: FleetVehicle, asOf: Day): Ages {
  const { clock } = clockOf(one, asOf)
  const { bornOn } = watchOf(one.records, clock, asOf)
  const changed = one.records.changes.findLast(
    ({ kind, on, enteredOn }) => kind.startsWith('engine-') && isKnownBy(asOf, on, enteredOn),
  )
  const at = ({ kmAt, hoursAt }: VehicleClock): ClockReading => {
    return { distance: kmAt(asOf), hours: hoursAt(asOf), time: asOf - bornOn }
  }
  const typical = clockOf(typicalVehicle(one, asOf), asOf).clock
  return { own: at(clock), typical: at(typical), engineChangedOn: changed?.on ?? null }
}

/**
 * The typical vehicle of a vehicle's class: of its engine, version and duty, as old in days and watched since the
 * same day, with nothing else on record. Scored as any vehicle is of which nothing else is known, it is used at the
 * class's median rate from its first day on: its distance is the class's median km a day times this vehicle's time,
 * its engine hours follow by the class's km per hour. So a vehicle without records is its own typical vehicle.
 */
export function typicalVehicle(one: FleetVehicle, asOf: Day): FleetVehicle {
  const { vehicle } = one.records
  const { bornOn, from, unknown } = watchOf(one.records, clockOf(one, asOf).clock, asOf)
  const records: VehicleRecords = {
    vehicle: {
      ...vehicle,
      status: 'active',
      builtOn: null,
      inServiceOn: bornOn,
      watchedFromOn: from,
      watchedFromKm: null,
      history: unknown ? 'none' : 'full',
    },
    readings: [],
    codes: [],
    checks: [],
    repairs: [],
    changes: [],
  }
  return { ...one, records, odometer: odometerOf(records, asOf) }
}

const TWO_YEARS = 730

/** The records of the last two years before a day, that day's own among them. */
export function latelyRecorded(records: VehicleRecords, asOf: Day): OneRecord[] {
  return listRecords(records).filter((record) => {
    const day = dayOfRecord(record)
    return day > asOf - TWO_YEARS && isKnownBy(asOf, day, record.row.enteredOn)
  })
}

/** One record, and the chance of every component without it, in the order of the vehicle's scores. */
export interface WithoutRecord {
  record: OneRecord
  chances: number[]
}

/**
 * The chances without each record of the last two years in turn: the vehicle is scored from a folder without that row.
 * How its class is used and what was learned stay as they are. A reading between whose neighbours nothing happened
 * changes nothing on the way, only what lies ahead: then the vehicle is not followed anew.
 *
 * @returns one after the other, so that whoever shares the process can have its turn in between
 */
export function* withoutEachRecord(
  one: FleetVehicle,
  horizon: Horizon,
  scorer: VehicleScorer,
): Generator<WithoutRecord> {
  const { asOf } = scorer
  const whole = scorer.follow(one)
  if (!whole.known) return
  const { belief } = whole.known.vehicle
  const isSameWay = wayOf(one, whole.clock, asOf)
  for (const record of latelyRecorded(one.records, asOf)) {
    const without = withoutRecord(one, record, asOf)
    const { clock } = clockOf(without, asOf)
    const isSame = record.kind === 'readings' && isSameWay(without, clock)
    const { components } = isSame ? chancesWithin(belief, clock, horizon) : scorer.chances(without, horizon)
    yield { record, chances: components.map(({ pFail }) => pFail) }
  }
}

/** Answers whether a vehicle with other readings is watched and driven alike wherever following it asks. */
function wayOf(one: FleetVehicle, clock: VehicleClock, asOf: Day) {
  const { bornOn, from, unknown } = watchOf(one.records, clock, asOf)
  const happened = listRecords(one.records).filter(({ kind }) => kind !== 'readings')
  const days = [...new Set([bornOn, from ?? bornOn, ...happened.map(dayOfRecord), asOf])]
  const clocks = days.map((day) => ({ day, km: clock.kmAt(day), hours: clock.hoursAt(day) }))
  return (other: FleetVehicle, its: VehicleClock): boolean => {
    const watch = watchOf(other.records, its, asOf)
    return (
      watch.bornOn === bornOn &&
      watch.from === from &&
      watch.unknown === unknown &&
      clocks.every(({ day, km, hours }) => its.kmAt(day) === km && its.hoursAt(day) === hours)
    )
  }
}

/**
 * The vehicle as if one of its records had never been written: its odometer is judged anew, so that a reading takes
 * with it what it made of the others. How its class is used stays as it is.
 */
export function withoutRecord(one: FleetVehicle, { kind, row }: OneRecord, asOf: Day): FleetVehicle {
  const left = one.records[kind].filter((each: { unit: string }) => each !== row)
  const records: VehicleRecords = { ...one.records, [kind]: left }
  const isOdometer = row.odometerKm !== null || kind === 'changes'
  return { ...one, records, odometer: isOdometer ? odometerOf(records, asOf) : one.odometer }
}

/** One record, and the chance of one component without it. */
export interface RecordEffect {
  record: OneRecord
  /** Without it. */
  chance: number
  /** What the record does to the chance: the score less the chance without it. */
  change: number
}

/** Less than a hundredth of the chance, or than a hundredth of a point of 100, is a rounding. */
const TELLING_SHARE = 0.01
const TELLING_CHANGE = 1e-4

/** Whether a change from one chance to another is more than a rounding. */
export const isTelling = (before: number, after: number): boolean =>
  Math.abs(after - before) > Math.max(TELLING_CHANGE, TELLING_SHARE * Math.max(before, after))

/**
 * What records do to one component's chance: those that move it, by the size of their effect, and how many do not.
 *
 * @param component its place in the order of the vehicle's scores
 * @param score its chance with all of them
 */
export function effectsOn(component: number, score: number, without: readonly WithoutRecord[]) {
  const effects = without.map(({ record, chances }): RecordEffect => {
    const chance = chances[component]!
    return { record, chance, change: score - chance }
  })
  const telling = effects.filter(({ chance }) => isTelling(chance, score))
  return {
    telling: telling.sort((a, b) => Math.abs(b.change) - Math.abs(a.change)),
    silent: effects.length - telling.length,
  }
}

/** What happened to a component after it was scored. */
import type { WeakPoint } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { lastRecordOn } from '@/lib/scoring/watch'
import type { Day } from '@/lib/units/dates'
import { isAtWork, type Place, worksOn } from './inner/component-works'
import { fleetOn, readingOn, type VehicleThen } from './inner/fleet-clocks'

/** Without a record for so many days, a vehicle is lost from sight at its last one. */
const LOST_AFTER_DAYS = 400

/**
 * - `failed`: on record.
 * - `developing`: opened before it could fail, and found going.
 * - `ended`: renewed while sound, or with the whole engine.
 * - `unnoted`: renewed in a state that nobody noted: it may have failed.
 * - `lost`: not seen until the end.
 * - `spared`: seen until the end, and at work.
 */
export type Fate = 'failed' | 'developing' | 'ended' | 'unnoted' | 'lost' | 'spared'

export interface Outcome {
  fate: Fate
  /** When it failed, was opened or lost, or the horizon ended. */
  on: Day
  /** The chance that it failed within the horizon. */
  failed: number
  /** How much of the horizon the forecast was put to the test for: 1 unless it was ended or lost before. */
  share: number
}

/** Mean time from onset to failure (δ), in the weak point's clock. */
export type WarningMean = (weakPoint: WeakPoint, family: string) => number

/** As the library's author states it: the median over ln 2. */
export const statedWarning: WarningMean = ({ warning }) => warning / Math.LN2

/** All that is on record, by vehicle: what outcomes are read from. */
export class Hindsight {
  private readonly vehicles: Map<string, VehicleThen & { seenUntil: Day }>
  /** Of all vehicles. */
  readonly lastDay: Day

  constructor(
    records: Records,
    private readonly warningMean: WarningMean = statedWarning,
  ) {
    this.lastDay = lastDayOn(records)
    this.vehicles = new Map(
      fleetOn(inHindsight(records), this.lastDay).map((one) => [
        one.records.vehicle.unit,
        { ...one, seenUntil: this.seenUntil(one.records) },
      ]),
    )
  }

  /**
   * What happened to a component in (cut-off, cut-off + days].
   *
   * A part opened and found developing counts as the chance that it would have failed by the end,
   * 1 − e^(−rest/δ). A part renewed while sound (or in a state that nobody noted), a vehicle that left and records
   * that cease end the forecast there. A failure of which nobody noted the position is no component's.
   *
   * @returns null for a part that had failed before and waited for its repair, and for a vehicle not seen since
   */
  outcome(
    unit: string,
    weakPoint: WeakPoint,
    position: number,
    horizon: { cutOff: Day; days: number },
  ): Outcome | null {
    const vehicle = this.vehicles.get(unit)
    const place = { weakPoint: weakPoint.key, position }
    const { cutOff, days } = horizon
    if (!vehicle || vehicle.seenUntil <= cutOff || !isAtWork(vehicle.records, place, cutOff)) return null
    const { fate, on } = fateOf(vehicle.records, place, weakPoint.warning > 0, cutOff, {
      horizon: cutOff + days,
      seen: vehicle.seenUntil,
    })
    const cutShort = fate === 'ended' || fate === 'unnoted' || fate === 'lost'
    return {
      fate,
      on,
      failed:
        fate === 'developing'
          ? this.wouldFail(vehicle, weakPoint, on, cutOff + days)
          : Number(fate === 'failed'),
      share: cutShort ? (on - cutOff) / days : 1,
    }
  }

  /** P(fails by `until` | developing on `on`). */
  private wouldFail({ clock, records }: VehicleThen, weakPoint: WeakPoint, on: Day, until: Day): number {
    const rest = readingOn(clock, weakPoint.clock, until) - readingOn(clock, weakPoint.clock, on)
    const { duty, family } = records.vehicle
    return 1 - Math.exp((-rest * weakPoint.duty[duty]) / this.warningMean(weakPoint, family))
  }

  private seenUntil(records: VehicleRecords): Day {
    const { status, soldOn, leftOn, coverUntilOn } = records.vehicle
    const last = lastRecordOn(records) ?? Number.NEGATIVE_INFINITY
    const isHere = status === 'active' || status === 'stock'
    if (!isHere) return Math.min(coverUntilOn ?? soldOn ?? leftOn ?? last, this.lastDay)
    return this.lastDay - last > LOST_AFTER_DAYS ? last : this.lastDay
  }
}

function fateOf(
  records: VehicleRecords,
  place: Place,
  warns: boolean,
  after: Day,
  until: { horizon: Day; seen: Day },
): { fate: Fate; on: Day } {
  let going = false
  const works = worksOn(records, place, after, Math.min(until.horizon, until.seen))
  for (const { day, found, kind, wholeEngine } of works) {
    if (found === 'failed') return { fate: 'failed', on: day }
    if (kind === 'gap') return { fate: 'lost', on: day }
    // Where nothing warns a part is sound or failed, and "going" says nothing.
    going = warns && (found === 'developing' || (going && found !== 'sound'))
    if (kind === 'look') continue
    if (going) return { fate: 'developing', on: day }
    return { fate: found === null && !wholeEngine ? 'unnoted' : 'ended', on: day }
  }
  return until.seen < until.horizon ? { fate: 'lost', on: until.seen } : { fate: 'spared', on: until.horizon }
}

/** Records as they are known afterwards: whenever a row was written down, it counts from its own day. */
export function inHindsight(records: Records): Records {
  const known = <Row extends { enteredOn: Day | null }>(rows: readonly Row[]): Row[] =>
    rows.map((row) => ({ ...row, enteredOn: null }))
  const { vehicles, readings, codes, checks, repairs, changes, settings } = records
  return {
    vehicles,
    readings: known(readings),
    codes: known(codes),
    checks: known(checks),
    repairs: known(repairs),
    changes: known(changes),
    settings,
  }
}

/** The last day on which anything is on record; -Infinity where nothing is. */
export const lastDayOn = (records: Records): Day =>
  daysOf(records).reduce((last, day) => Math.max(last, day), Number.NEGATIVE_INFINITY)

/** The first one; Infinity where nothing is. */
export const firstDayOn = (records: Records): Day =>
  daysOf(records).reduce((first, day) => Math.min(first, day), Number.POSITIVE_INFINITY)

const daysOf = ({ readings, codes, checks, repairs, changes }: Records): Day[] => [
  ...readings.map(({ readOn }) => readOn),
  ...codes.map(({ seenOn }) => seenOn),
  ...checks.map(({ checkedOn }) => checkedOn),
  ...repairs.map(({ doneOn }) => doneOn),
  ...changes.map(({ on }) => on),
]

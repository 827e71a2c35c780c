/**
 * How often to replace a part before it fails: what that costs in the long run, and how many fail all the same, for
 * every interval (age replacement, Barlow & Hunter 1960, Operations Research 8, 90–100).
 */
import { ageReplacement, costRate } from '@/lib/model/age-replacement'
import type { LifeParameters } from '@/lib/model/life-table'
import { meanLife, meanLifeUpTo } from '@/lib/model/mean-life'
import { logSurvival } from '@/lib/model/two-stage'
import type { Clock } from '@/lib/records/library'
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import type { VehicleRow } from '@/lib/records/rows'
import type { JobCost } from './costs'

/** Parts of one kind in use, in the clock's own units: km, hours or days. */
export interface PartsInUse {
  /** How fast a part ages, in effective units a clock unit: the factor of how the vehicles are driven. */
  ageing: number
  /** How many of the part there are, over all vehicles. */
  parts: number
  perYear: number
}

const DAYS_PER_YEAR = 365.25

/** What one vehicle adds to a clock in a year: km, hours (by what such driving usually makes of km) or days. */
export function clockPerYear(clock: Clock, duty: VehicleRow['duty'], kmPerDay: number): number {
  if (clock === 'time') return DAYS_PER_YEAR
  const km = kmPerDay * DAYS_PER_YEAR
  return clock === 'distance' ? km : km / ODOMETER_SETTINGS.kmPerHour[duty]
}

export interface IntervalOutcome {
  /** In clock units; Infinity: run to failure. */
  interval: number
  /** Money a clock unit, of one part, in the long run. */
  rate: number
  /** Of all the parts, in a year. */
  failuresPerYear: number
  replacedPerYear: number
}

export type IntervalChoice =
  | {
      ok: true
      /** The interval with the least cost; running to failure where none beats it. */
      best: IntervalOutcome
      /** Between these the cost lies within 5 % of the least; `high` is Infinity where it never leaves. */
      flat: { low: number; high: number }
      toFailure: IntervalOutcome
      /** By rising interval, in even steps. */
      outcomes: IntervalOutcome[]
      /** The outcome of any other interval, above 0. */
      at(interval: number): IntervalOutcome
    }
  | { ok: false; reason: 'no-price' | 'outside-domain' }

const STEPS = 48
/** Intervals are shown up to so many mean lives, and to somewhat beyond the best. */
const MEAN_LIVES = 1.5
const BEYOND_BEST = 1.6

/**
 * Weighs intervals for one weak point.
 *
 * The cost is that of the job alone: neither the visit counts nor what a look would find, and the part is replaced by
 * an original one that begins good.
 *
 * @param life in effective units
 */
export function chooseInterval(life: LifeParameters, cost: JobCost, use: PartsInUse): IntervalChoice {
  if (!(cost.planned > 0)) return { ok: false, reason: 'no-price' }
  const optimum = ageReplacement(life, cost.planned, cost.unplanned)
  if (!optimum.ok) return optimum
  const at = (interval: number) => outcomeAt(interval, life, cost, use)
  const toClock = (age: number) => age / use.ageing
  const farthest = optimum.finite ? BEYOND_BEST * optimum.tStar : 0
  const upTo = toClock(Math.max(MEAN_LIVES * optimum.meanLife, Math.min(farthest, 3 * optimum.meanLife)))
  return {
    ok: true,
    best: at(toClock(optimum.tStar)),
    flat: { low: toClock(optimum.flatLow), high: toClock(optimum.flatHigh) },
    toFailure: at(Number.POSITIVE_INFINITY),
    outcomes: Array.from({ length: STEPS }, (_, i) => at((upTo * (i + 1)) / STEPS)),
    at,
  }
}

function outcomeAt(interval: number, life: LifeParameters, cost: JobCost, use: PartsInUse): IntervalOutcome {
  const age = interval * use.ageing
  const rate = costRate(age, life, cost.planned, cost.unplanned) * use.ageing
  const yearly = use.parts * use.perYear * use.ageing
  if (age === Number.POSITIVE_INFINITY)
    return { interval, rate, failuresPerYear: yearly / meanLife(life), replacedPerYear: 0 }
  const survives = Math.exp(logSurvival(age, life))
  const cycles = yearly / meanLifeUpTo(age, life, survives)
  return {
    interval,
    rate,
    failuresPerYear: cycles * (1 - survives),
    replacedPerYear: cycles * survives,
  }
}

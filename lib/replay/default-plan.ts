/** From which days it is looked back, unless somebody asks for others. */
import type { Records } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { firstDayOn, lastDayOn } from './outcomes'
import type { ReplayPlan } from './replay'

/** A month apart, over the past two years. */
const EVERY_DAYS = 30
const MOST_CUT_OFFS = 24
/** Records that begin later before a day say too little for anything to be expected of it. */
const LEAST_DAYS_BEFORE = 180

/**
 * Monthly days over the past two years, as far as the records reach: the last one lies a horizon before the end of the
 * records, so that what happened is known; the first at least half a year after their beginning.
 *
 * @param asOf today
 * @param days the horizon
 * @returns null where the records are not long enough for one such day
 */
export const defaultPlan = (records: Records, asOf: Day, days: number): ReplayPlan | null =>
  planBetween({ first: firstDayOn(records), last: lastDayOn(records) }, asOf, days)

/** The same where it is known from which day to which anything is on record. */
export function planBetween(
  { first, last }: { first: Day; last: Day },
  asOf: Day,
  days: number,
): ReplayPlan | null {
  const to = Math.min(last, asOf) - days
  const earliest = first + LEAST_DAYS_BEFORE
  const count = Math.min(Math.floor((to - earliest) / EVERY_DAYS) + 1, MOST_CUT_OFFS)
  return count > 0 ? { from: to - (count - 1) * EVERY_DAYS, to, every: EVERY_DAYS, days } : null
}

/** Days of records without which nothing can be looked back on. */
export const leastDaysOfRecords = (horizonDays: number): number => LEAST_DAYS_BEFORE + horizonDays

/** What one cut-off takes for each weak point of the library, and for each vehicle, in seconds on a common machine. */
const SECONDS_A_WEAK_POINT = 0.045
const SECONDS_A_VEHICLE = 0.011

/** How many minutes a replay may take, in one process; rounded up. */
export function minutesFor({ weakPoints, vehicles }: { weakPoints: number; vehicles: number }): number {
  const seconds = MOST_CUT_OFFS * (SECONDS_A_WEAK_POINT * weakPoints + SECONDS_A_VEHICLE * vehicles)
  return Math.max(Math.ceil(seconds / 60), 1)
}

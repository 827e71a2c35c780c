import { mondayOf } from '@/lib/decisions/plan-weeks'
import { clockIn } from '@/lib/units/clock-in'
import type { Day } from '@/lib/units/dates'

/** When somebody wants the week: `weekday` counts from Monday, 0; since when they want it so. */
export type Wished = { weekday: number; hour: number; changedAt: Date }

/** What is due: of which week, by its Monday, and up to which day it tells. */
export type DueDigest = { weekOn: Day; to: Day }

/**
 * The mail that is due, where the organisation is; null before its hour. What was wished after this week's hour begins
 * with the next week. What was missed is due until the week is over.
 */
export function dueDigest(
  { weekday, hour, changedAt }: Wished,
  timeZone: string,
  now: Date,
): DueDigest | null {
  const at = clockIn(timeZone, now)
  const weekOn = mondayOf(at.day)
  const dueOn = weekOn + weekday
  const isPast = (clock: { day: Day; hour: number }) =>
    clock.day > dueOn || (clock.day === dueOn && clock.hour >= hour)
  if (!isPast(at) || isPast(clockIn(timeZone, changedAt))) return null
  return { weekOn, to: dueOn - 1 }
}

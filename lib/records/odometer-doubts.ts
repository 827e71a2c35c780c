import type { Day } from '@/lib/units/dates'
import type { Odometer } from './trusted-odometer'

/** What makes a reading worth asking about before it is kept; km, and km a day. */
export type OdometerDoubt =
  | { kind: 'lower'; day: Day; km: number }
  | { kind: 'higher-than-later'; day: Day; km: number }
  | { kind: 'fast'; day: Day; km: number; kmPerDay: number }

/** More than this in a day is rare, week in week out (common practice, no source). */
const MUCH_PER_DAY_KM = 700

/**
 * Compares a reading with the trusted ones around it. A doubt is a question for whoever reads it, never a refusal:
 * which readings count is decided over all of them.
 *
 * @returns the first doubt, or null
 */
export function doubtOf(
  { day, km }: { day: Day; km: number },
  { trusted }: Pick<Odometer, 'trusted'>,
): OdometerDoubt | null {
  const readings = Array.from(trusted.day, (on, i) => ({ day: on, km: trusted.km[i]! }))
  const before = readings.findLast((each) => each.day <= day)
  const after = readings.find((each) => each.day > day)
  if (before && km < before.km) return { kind: 'lower', ...before }
  if (after && km > after.km) return { kind: 'higher-than-later', ...after }
  if (!before) return null
  const kmPerDay = (km - before.km) / Math.max(day - before.day, 1)
  return kmPerDay > MUCH_PER_DAY_KM ? { kind: 'fast', ...before, kmPerDay } : null
}

import type { Day } from '@/lib/units/dates'
import type { Odometer } from './trusted-odometer'

/** What makes a reading worth asking about before it is kept; km, and km a day. */
export type OdometerDoubt =
  | { kind: 'lower'; day: Day; km: number }
  | { kind: 'higher-than-later'; day: Day; km: number }
  | { kind: 'fast'; day: Day; km: number; kmPerDay: number }

/** More than this in a day is rare, week in week out (common practice, no source). */
const MUCH_PER_DAY_KM = 700

/** So many times what it usually runs, and so much farther, is worth a question (a slip of a digit is at least that). */
const UNLIKE_ITSELF = { times: 4, fartherKm: 2000 }

/**
 * Compares a reading with the trusted ones around it. A doubt is a question for whoever reads it, never a refusal:
 * which readings count is decided over all of them.
 *
 * @param usualKmPerDay what it usually runs, to be held against as well; null where that is not known
 * @returns the first doubt, or null
 */
export function doubtOf(
  { day, km }: { day: Day; km: number },
  { trusted }: Pick<Odometer, 'trusted'>,
  usualKmPerDay: number | null = null,
): OdometerDoubt | null {
  const readings = Array.from(trusted.day, (on, i) => ({ day: on, km: trusted.km[i]! }))
  const before = readings.findLast((each) => each.day <= day)
  const after = readings.find((each) => each.day > day)
  if (before && km < before.km) return { kind: 'lower', ...before }
  if (after && km > after.km) return { kind: 'higher-than-later', ...after }
  if (!before) return null
  const days = Math.max(day - before.day, 1)
  const kmPerDay = (km - before.km) / days
  const { times, fartherKm } = UNLIKE_ITSELF
  const unlike =
    usualKmPerDay !== null &&
    kmPerDay > times * usualKmPerDay &&
    km - before.km - usualKmPerDay * days > fartherKm
  return kmPerDay > MUCH_PER_DAY_KM || unlike ? { kind: 'fast', ...before, kmPerDay } : null
}

import type { Day } from '@/lib/units/dates'
import { interpolate } from './inner/interpolate'
import type { Odometer } from './trusted-odometer'

/** Where the odometer stood on a day by the trusted readings around it, km; at an end of them, what it said there. */
export function odometerOn({ trusted }: Pick<Odometer, 'trusted'>, day: Day): number | null {
  const last = trusted.day.length - 1
  if (last < 0) return null
  const within = Math.min(Math.max(day, trusted.day[0]!), trusted.day[last]!)
  return interpolate({ x: trusted.day, y: trusted.km }, within)
}

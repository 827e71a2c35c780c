import type { Day } from '@/lib/units/dates'
import { interpolate } from './inner/interpolate'
import type { Odometer } from './trusted-odometer'

/** Two readings this near could be of one vehicle on one day. */
const NEAR_KM = 100

/**
 * Looks for the vehicle that a distrusted reading may really be of, for `trustOdometer`.
 *
 * @param fleet every vehicle's odometer by unit. @param unit the vehicle that the reading was booked on.
 * @returns a look-up: the one other vehicle that stood within 100 km of `km` on `day`; null where none did,
 * and where several did, because in a large fleet almost any figure fits somebody.
 */
export function swappedWith(
  fleet: ReadonlyMap<string, Odometer>,
  unit: string,
): (day: Day, km: number) => string | null {
  return (day, km) => {
    let found: string | null = null
    for (const [other, odometer] of fleet) {
      if (other === unit || !stoodNear(odometer, day, km)) continue
      if (found !== null) return null
      found = other
    }
    return found
  }
}

function stoodNear({ trusted }: Odometer, day: Day, km: number): boolean {
  const last = trusted.day.length - 1
  if (last < 0 || day < trusted.day[0]! || day > trusted.day[last]!) return false
  return Math.abs(interpolate({ x: trusted.day, y: trusted.km }, day) - km) <= NEAR_KM
}

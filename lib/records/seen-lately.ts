import type { Day } from '@/lib/units/dates'
import type { SignAt } from './cells'
import type { Family } from './library-schema'
import { LAMP_ON } from './rows'
import { signsForCode } from './sign-codes'
import type { VehicleRecords } from './vehicle-records'

/** A sighting older than this is no complaint of today: the window in which the search for a fault takes signs. */
export const LATELY_DAYS = 90

type Records = Pick<VehicleRecords, 'codes' | 'checks' | 'repairs'>

/**
 * Whether a sign that its family knows was seen on a vehicle in the last 90 days, by whomever and however, and no part
 * that could have caused it was replaced since: the sign that nobody had an answer to. A part that sits elsewhere than
 * the sign answers nothing, as far as the same count of places tells.
 */
export function seenLately(
  { codes, checks, repairs }: Records,
  family: Pick<Family, 'signs'>,
  today: Day,
): boolean {
  const signOf = signsForCode(family)
  const causes = new Map(family.signs.map(({ key, causes }) => [key, causes.map((each) => each.weakPoint)]))
  const isOpen = (day: Day, { sign, position }: SignAt) => {
    if (day > today || today - day > LATELY_DAYS) return false
    const known = causes.get(sign)
    if (!known && sign !== LAMP_ON) return false
    return !repairs.some(
      ({ action, doneOn, weakPoint, positions }) =>
        action === 'renew' &&
        doneOn >= day &&
        (known?.includes(weakPoint) ?? true) &&
        (position === null || positions.length === 0 || positions.includes(position)),
    )
  }
  return (
    checks.some(({ checkedOn, seen }) => seen.some((each) => isOpen(checkedOn, each))) ||
    codes.some(({ seenOn, code }) => {
      const at = signOf(code)
      return at !== null && isOpen(seenOn, at)
    })
  )
}

import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'

type Standing = Pick<VehicleHead, 'status' | 'leftOn' | 'coverUntilOn' | 'coverUntilKm'> & {
  isScored: boolean
}
type Told = Pick<Formats, 'day' | 'distance'>

/** Whether the vehicle is there, since when it is not, and what that means for its scores; nothing for one in use. */
export function statusWords(vehicle: Standing, today: Day, formats: Told): string | null {
  const { status, leftOn, isScored } = vehicle
  if (status === 'active') return null
  if (status === 'stock') return 'In stock.'
  const when = leftOn === null ? '' : ` on ${formats.day(leftOn)}`
  const ahead = leftOn !== null && leftOn > today
  if (status === 'retired') return `Retired${when}${ahead ? '' : ', so it is not scored any more'}.`
  return `Sold${when}${soldWords(vehicle, isScored, today, formats)}.`
}

function soldWords(vehicle: Standing, isScored: boolean, today: Day, formats: Told): string {
  const { coverUntilOn, coverUntilKm } = vehicle
  const until = [
    coverUntilOn !== null && `until ${formats.day(coverUntilOn)}`,
    coverUntilKm !== null && `up to ${formats.distance(coverUntilKm)}`,
  ].filter((part) => part !== false)
  if (until.length === 0) return ' without cover, so it is not scored any more'
  const cover = `under cover ${until.join(' and ')}`
  if (coverUntilOn !== null && coverUntilOn < today)
    return `; its cover ended on ${formats.day(coverUntilOn)}, so it is not scored any more`
  const first = until.length > 1 ? ', whichever comes first' : ''
  if (isScored) return `, ${cover}${first}: scored like stock until then`
  return `, ${cover}; its scores are not there: either they are still to come, or its odometer is past the cover`
}

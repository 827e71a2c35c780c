import type { VehicleChange } from '@/lib/jobs/vehicle-change'
import { placeOf } from '@/lib/records/place-of'
import { frequency } from '../../../ui/chance-words'
import { ADVICE, placeWords } from '../../../ui/words'
import type { Ground } from './entry-ground'

/** A chance that moved by less than this ratio has not moved to speak of. */
const TELLING_RATIO = 1.1
const MOST_LINES = 6

/** What an entry did to the scores, the greatest move first. */
export function movedLines(vehicles: VehicleChange[], { unit, family, formats }: Ground): string[] {
  const own = vehicles.find((vehicle) => vehicle.unit === unit)
  if (!own) return ['Its score follows within the minute.']
  const { components } = own
  if (components.length > 0 && components.every(({ pFail }) => pFail.after === null))
    return ['It is not scored any more.']
  if (components.length > 0 && components.every(({ pFail }) => pFail.before === null))
    return ['It is scored now.']
  const moved = components.flatMap(({ weakPoint, position, pFail, advice }) => {
    if (pFail.before === null || pFail.after === null) return []
    const ratio = Math.abs(Math.log(pFail.after / pFail.before))
    if (ratio < Math.log(TELLING_RATIO) && advice.before === advice.after) return []
    const point = family?.weakPoints.find(({ key }) => key === weakPoint)
    const place = point && family ? placeWords(placeOf(point.positions, family.cylinders), position) : ''
    const name = [point?.component ?? weakPoint, place].filter(Boolean).join(', ')
    const chances = `about ${frequency(pFail.before, formats.count)} → about ${frequency(pFail.after, formats.count)}`
    const advised =
      advice.before === advice.after || advice.before === null || advice.after === null
        ? ''
        : `; advice: ${ADVICE[advice.before]} → ${ADVICE[advice.after]}`
    return [{ ratio, line: `${name}: ${chances} within 90 days${advised}` }]
  })
  const lines = moved.sort((a, b) => b.ratio - a.ratio).map(({ line }) => line)
  if (lines.length === 0) return ['No chance moved by a tenth or more.']
  const rest = lines.length - MOST_LINES
  return rest > 0 ? [...lines.slice(0, MOST_LINES), `and ${formats.count(rest)} more`] : lines
}

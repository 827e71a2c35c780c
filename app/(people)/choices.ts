import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import type { Choice } from '../ui/frame'
import { horizonWords } from '../ui/words'
import { addressOf, type View } from './view'

/** The choices at the top of a page: horizon and unit of distance. Each keeps the rest of the view. */
export function choicesOf(view: View, ownDistance: View['distance'], page: string): Choice[] {
  const option = (label: string, change: Partial<View>, chosen: boolean) => ({
    label,
    address: addressOf({ ...view, ...change }, ownDistance, page),
    chosen,
  })
  return [
    {
      name: 'Horizon',
      options: STORED_HORIZONS_DAYS.map((days) =>
        option(horizonWords(days), { horizonDays: days }, days === view.horizonDays),
      ),
    },
    {
      name: 'Distance',
      options: (['km', 'mi'] as const).map((unit) =>
        option(unit, { distance: unit }, unit === view.distance),
      ),
    },
  ]
}

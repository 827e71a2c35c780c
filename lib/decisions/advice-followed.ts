/** Whether what was advised for a component was done before it failed, as far as it is on record. */
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { timelineOf } from '@/lib/scoring/timeline'
import type { Day } from '@/lib/units/dates'
import type { Advice } from './advice'
import { isAbout, isLook, type PlacedComponent, wouldShow } from './known-of-component'

/** What was done first of that which was advised; `nothing`: no such thing is on record. */
export type Followed = { how: 'worked' | 'opened' | 'looked' | 'parked'; on: Day } | { how: 'nothing' }

/** What was advised, and what is on record of the time until it failed. */
export interface Standing {
  advice: Advice
  /** Records that came after it was said, dated before the failure. */
  after: VehicleRecords
  /** The day of the failure. */
  before: Day
  /** The first day since it was said on which the vehicle was parked because of it; null where it was not. */
  parkedOn: Day | null
}

/**
 * `stop` asks that it is parked or worked on, `book` that it is worked on, `check` that somebody looks. What is less
 * than was asked (a job that was booked was only opened) is told as what it is.
 *
 * @returns null where the advice asks nothing
 */
export function howFollowed(
  { advice, after, before, parkedOn }: Standing,
  component: PlacedComponent,
): Followed | null {
  if (advice === 'fine' || advice === 'watch') return null
  const events = timelineOf(after, component.plan, () => 0, null, before - 1)
  const work = events.filter((event) => isAbout(event, component))
  const dayOf = (action: 'inspect' | 'other') =>
    work.find(
      (event) => event.kind === 'repair' && (event.repair.action === 'inspect') === (action === 'inspect'),
    )?.day
  const lookedOn = events.find((event) => isLook(event) && wouldShow(event.look, component))?.day
  const [workedOn, openedOn] = [dayOf('other'), dayOf('inspect')]
  if (advice === 'stop' && parkedOn !== null) return { how: 'parked', on: parkedOn }
  if (workedOn !== undefined) return { how: 'worked', on: workedOn }
  if (openedOn !== undefined) return { how: 'opened', on: openedOn }
  return lookedOn === undefined ? { how: 'nothing' } : { how: 'looked', on: lookedOn }
}

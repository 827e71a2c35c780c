/** Whether somebody has looked at a component of this very vehicle, as far as a letter about it asks. */
import type { CheckRow } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { timelineOf } from '@/lib/scoring/timeline'
import type { Day } from '@/lib/units/dates'
import { isAbout, type PlacedComponent } from './known-of-component'

/** A look older than this is no look at the vehicle as it is today. (A convention of ours.) */
export const LOOK_LASTS_DAYS = 365

/** What a customer tells is no look, and a lamp that nobody has read says nothing of which part. */
const NO_LOOK: readonly (CheckRow['kind'] | null)[] = ['report', 'lamp']

/**
 * When a component was last looked at since it came in: a look that would have shown one of its signs or did, a trouble
 * code of it that was read, or an opening.
 *
 * @returns null where nobody has, or too long ago
 */
export function lookedAtOn(records: VehicleRecords, component: PlacedComponent, asOf: Day): Day | null {
  const { plan, index } = component
  const signs = plan.signsOf[index]!
  let last: Day | null = null
  for (const event of timelineOf(records, plan, () => 0, null, asOf)) {
    if (event.kind === 'change' && event.change.kind.startsWith('engine-')) last = null
    if (event.kind === 'look' && !NO_LOOK.includes(event.check)) {
      const told = [...event.look.seen, ...event.look.lookedFor]
      if (told.some((sign) => signs.includes(sign))) last = event.day
    }
    if (event.kind === 'repair' && isAbout(event, component)) last = endsLife(event.repair) ? null : event.day
  }
  return last !== null && asOf - last <= LOOK_LASTS_DAYS ? last : null
}

const endsLife = ({ action }: { action: string }) => action === 'renew'

import type { VehicleRow } from '@/lib/records/rows'
import type { Question } from '../../ui/form-state'
import type { Formats } from '../../ui/formats'
import { STATUSES } from '../../ui/record-words'

type Gone = Pick<VehicleRow, 'unit' | 'plate' | 'status' | 'soldOn' | 'leftOn'>

/** What is asked before the number of a vehicle that was sold or retired goes to a new one. */
export function numberQuestion(
  { unit, plate, status, soldOn, leftOn }: Gone,
  formats: Pick<Formats, 'day'>,
): Question {
  const left = soldOn ?? leftOn
  const who = plate === null || plate === unit ? unit : `${unit} (${plate})`
  const when = left === null ? '' : ` on ${formats.day(left)}`
  return {
    words: `There was a ${who} already, ${STATUSES[status]}${when}. Is its number used again, for another vehicle? Then the one before keeps all of its records, and is called “${unit} (until …)” with the day on which it left.`,
    yes: `Use ${unit} again for a new vehicle`,
    // Another status or day is asked about anew.
    sure: `${status}@${left ?? ''}`,
  }
}

import { groupByVehicle } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { readTerms } from '@/lib/store/read/terms'
import { rehearse } from '@/lib/store/rehearse'
import { addRecords } from '@/lib/store/write/add-records'
import { dayIn } from '@/lib/units/dates'
import { rescoreTouched } from './rescore-touched'

/** A code of a known form, which some engines know and others keep without effect. */
const CODE = 'P0302'

/**
 * Enters a code on a vehicle and scores it, by the code that would, and takes all of it back.
 *
 * @param now the present instant
 * @returns whether the vehicle would have been scored
 */
export async function rehearseEntry(
  database: Database,
  organisation: OrganisationId,
  { unit, now }: { unit: string; now: Date },
): Promise<boolean> {
  return rehearse(database, organisation, async (scope) => {
    const [terms, classRate] = [await readTerms(scope), await readClassRate(scope, unit)]
    if (classRate === null) return false // the background has not come to it yet; it would all be reckoned here
    await readKnownLibrary(scope)
    const records = await readRecords(scope, [unit])
    const [vehicle] = groupByVehicle(records)
    if (!vehicle) return false
    const today = dayIn(terms.timeZone, now)
    odometerOf(vehicle, today)
    const seen = { unit, seenOn: today, code: CODE, odometerKm: null, state: 'stored' as const, lamp: null }
    const code = { ...seen, clearedOn: null, ref: null, enteredOn: null, notes: {}, line: 1 }
    const none = { vehicles: [], readings: [], checks: [], repairs: [], changes: [] }
    const { touched } = await addRecords(scope, { ...none, codes: [code] }, { now, by: null })
    const changes = await rescoreTouched(scope, touched, now)
    return (changes ?? []).some(({ components }) => components.length > 0)
  })
}

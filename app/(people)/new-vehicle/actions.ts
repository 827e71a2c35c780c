'use server'

import { redirect } from 'next/navigation'
import { readTypedVehicle } from '@/lib/intake/typed-vehicle'
import { enterRecords } from '@/lib/jobs/enter-records'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { type FormState, refused } from '../../ui/form-state'
import { typedIn } from '../vehicles/[unit]/typed-in'

/** Adds a vehicle with its first reading, and leads to its page. */
export async function addVehicle(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [fields, now] = [typedIn(data), new Date()]
  const unit = (fields.unit ?? '').trim()
  const { terms, known, there } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    known: await readKnownLibrary(scope),
    there: await readStandingVehicles(scope, [unit]),
  }))
  if (there.length > 0)
    return refused(before, data, [
      { field: 'unit', message: `There is a ${unit} already: open it from the watchlist` },
    ])
  const typed = readTypedVehicle(fields, {
    families: known?.library.families ?? [],
    today: dayIn(terms.timeZone, now),
    distance: terms.distance,
  })
  if (!typed.ok) return refused(before, data, typed.slips)
  await enterRecords(database, organisation, typed.records, { now, by: person.id })
  redirect(`/vehicles/${encodeURIComponent(unit)}`)
}

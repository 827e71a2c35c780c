'use server'

import { redirect } from 'next/navigation'
import { readTypedComplaint } from '@/lib/intake/typed-complaint'
import { enterRecords } from '@/lib/jobs/enter-records'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { type FormState, refused } from '../../../ui/form-state'
import { parametersIn } from '../../parameters-in'
import { typedIn } from '../../vehicles/[unit]/typed-in'
import { faultAddress } from '../fault-asked'
import { unrecordedAsked } from './unrecorded-asked'

/**
 * Keeps the vehicle of a complaint with what was said of it, and leads to the search on it.
 *
 * @param asked the address's parameters
 */
export async function keepVehicle(asked: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const unit = (typedIn(data).unit ?? '').trim()
  const complaint = unrecordedAsked(parametersIn(new URLSearchParams(asked)))
  const now = new Date()
  const { terms, families, there } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    families: (await readKnownLibrary(scope))?.library.families ?? [],
    there: (await readVehicleRows(scope, { unit, after: null, limit: 1 })).vehicles[0],
  }))
  if (there)
    return refused(before, data, [
      { field: 'unit', message: `There is a ${unit} already: choose another number` },
    ])
  const typed = readTypedComplaint(
    { ...complaint, unit },
    { families, today: dayIn(terms.timeZone, now), distance: terms.distance },
  )
  if (!typed.ok) return refused(before, data, typed.slips)
  await enterRecords(database, organisation, typed.records, { now, by: person.id })
  redirect(faultAddress(unit))
}

'use server'

import { readTypedFacts } from '@/lib/intake/typed-life'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import type { FormState } from '../../../ui/form-state'
import { changeVehicleBy } from './change-vehicle-by'

/** Changes what a vehicle is, or undoes what has just been changed. A field that is left blank is not known. */
export async function changeFacts(unit: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('enter-records')
  return changeVehicleBy({ unit, before, data }, async (fields, { today }) => {
    const known = await withOrganisation(database, organisation, readKnownLibrary)
    const read = readTypedFacts(fields, { unit, families: known?.library.families ?? [], today })
    return read.ok ? { ...read, words: 'Changed.' } : read
  })
}

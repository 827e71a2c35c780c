'use server'

import { revalidatePath } from 'next/cache'
import { withOrganisation } from '@/lib/store/with-organisation'
import { askRefit } from '@/lib/store/write/ask-refit'
import { requirePerson } from '../../require-person'
import { done, type FormState } from '../../ui/form-state'

/** Asks that the organisation's records be learned from, now. */
export async function learnNow(before: FormState): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const asked = { by: person.id, now: new Date() }
  await withOrganisation(database, organisation, (scope) => askRefit(scope, asked), 'write')
  revalidatePath('/families')
  return done(before, 'Asked for')
}

'use server'

import { revalidatePath } from 'next/cache'
import { withOrganisation } from '@/lib/store/with-organisation'
import { askReplay, stopReplay } from '@/lib/store/write/ask-replay'
import { requirePerson } from '../../require-person'
import { done, type FormState } from '../../ui/form-state'

/** Asks that the past be replayed with the library in force. */
export async function lookBackNow(before: FormState): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('plan')
  const asked = { by: person.id, now: new Date() }
  await withOrganisation(database, organisation, (scope) => askReplay(scope, asked), 'write')
  revalidatePath('/track-record')
  return done(before, 'Asked for')
}

/** Gives a replay up that is under way. */
export async function stopLookingBack(id: string, before: FormState): Promise<FormState> {
  const { database, organisation } = await requirePerson('plan')
  await withOrganisation(
    database,
    organisation,
    (scope) => stopReplay(scope, { id, now: new Date() }),
    'write',
  )
  revalidatePath('/track-record')
  return done(before, 'Stopped')
}

'use server'

import { redirect } from 'next/navigation'
import { putVersionAgain } from '@/lib/jobs/take-in-family'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { type FormState, refused } from '../../../ui/form-state'
import { reasonsOf } from '../refusal-reasons'

/** Puts an earlier version of the library in force again, as a new one. */
export async function putAgain(version: number, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const put = await withOrganisation(
    database,
    organisation,
    (scope) => putVersionAgain(scope, { version, now: new Date(), by: person.id }),
    'write',
  )
  if (put?.ok) redirect('/families#versions')
  if (put === null)
    return refused(before, data, [{ field: null, message: 'There is no such version of the library.' }])
  return refused(before, data, reasonsOf(put))
}

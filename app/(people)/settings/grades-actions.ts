'use server'

import { revalidatePath } from 'next/cache'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putGrades } from '@/lib/store/write/put-grades'
import { requirePerson } from '../../require-person'
import { done, type FormState, refused } from '../../ui/form-state'
import { readGrades } from './grades-schema'

/** Changes the words for what is set aside, and how often it is to be enough. */
export async function changeGrades(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('edit-terms')
  const read = readGrades(data)
  if (!read.ok) return refused(before, data, read.errors)
  await withOrganisation(database, organisation, (scope) => putGrades(scope, read.value), 'write')
  revalidatePath('/', 'layout')
  return done(
    before,
    'Kept. What is set aside is being reckoned anew with it; the stock follows within moments.',
  )
}

'use server'

import { revalidatePath } from 'next/cache'
import { z } from 'zod'
import { makeToken } from '@/lib/people/tokens'
import { readTerms } from '@/lib/store/read/terms'
import { ROLES } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putTerms } from '@/lib/store/write/put-terms'
import { revokeToken } from '@/lib/store/write/revoke-token'
import { requirePerson } from '../../require-person'
import { done, type FormState, parseForm, refused } from '../../ui/form-state'
import { letterTermsSchema } from './letter-terms-schema'
import { termsSchema } from './terms-schema'

/** Changes the organisation's name, prices and limits; its scores follow. */
export async function changeTerms(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('edit-terms')
  const parsed = parseForm(termsSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { name, ...settings } = parsed.value
  const changed = await withOrganisation(
    database,
    organisation,
    (scope) => putTerms(scope, { name, settings }),
    'write',
  )
  if (!changed)
    return refused(before, data, [
      { field: 'name', message: 'Another organisation here has that name. Choose another.' },
    ])
  revalidatePath('/', 'layout')
  return done(before, 'Kept. Scores are being made anew with it; the watchlist follows within moments.')
}

/** Changes what customers pay and how often they are written to. */
export async function changeLetterTerms(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('edit-terms')
  const parsed = parseForm(letterTermsSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const settings = parsed.value
  await withOrganisation(
    database,
    organisation,
    async (scope) => putTerms(scope, { name: (await readTerms(scope)).name, settings }),
    'write',
  )
  revalidatePath('/', 'layout')
  return done(before, 'Kept. The calls are worked out anew with it.')
}

const tokenSchema = z.object({
  name: z
    .string()
    .trim()
    .min(1, 'Give the token a name: what will use it.')
    .max(100, 'Shorten the name to 100 characters.'),
  role: z.enum(ROLES, 'Choose what whoever has the token may do.'),
})

/** Makes a token and shows it this once. */
export async function addToken(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('manage-tokens')
  const parsed = parseForm(tokenSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const token = { ...parsed.value, by: person.id, now: new Date() }
  const once = await withOrganisation(database, organisation, (scope) => makeToken(scope, token), 'write')
  revalidatePath('/settings')
  return done(before, 'Copy the token now: it is kept nowhere and will not be shown again.', { once })
}

/** Ends a token for good, at once. */
export async function endToken(data: FormData): Promise<void> {
  const { database, organisation } = await requirePerson('manage-tokens')
  const id = z.uuid().safeParse(data.get('id'))
  if (id.success)
    await withOrganisation(
      database,
      organisation,
      (scope) => revokeToken(scope, { id: id.data, now: new Date() }),
      'write',
    )
  revalidatePath('/settings')
}

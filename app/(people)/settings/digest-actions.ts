'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { newDigestSecret } from '@/lib/people/unsubscribe'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putDigestWish } from '@/lib/store/write/put-digest-wish'
import { requirePerson } from '../../require-person'
import { done, type FormState, parseForm, refused } from '../../ui/form-state'

const whole = (most: number, message: string) =>
  z.coerce.number(message).int(message).min(0, message).max(most, message)

const WISH = z.object({
  wanted: z.enum(['yes', 'no'], 'Say whether you want it'),
  weekday: whole(6, 'Choose a day of the week'),
  hour: whole(23, 'Choose an hour'),
})

/** Keeps when whoever is signed in wants the week by mail, for themself alone. */
export async function wishDigest(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson()
  const parsed = parseForm(WISH, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { wanted, ...when } = parsed.value
  const wish = { ...when, wanted: wanted === 'yes', now: new Date(), secret: newDigestSecret() }
  await withOrganisation(database, organisation, (scope) => putDigestWish(scope, person.id, wish), 'write')
  refresh()
  return done(
    before,
    wish.wanted ? 'Kept: it comes from the next such hour on.' : 'Kept: no mails come to you.',
  )
}

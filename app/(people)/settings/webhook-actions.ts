'use server'

import { revalidatePath } from 'next/cache'
import { z } from 'zod'
import { testWebhook } from '@/lib/jobs/test-webhook'
import { wrongWithAddress } from '@/lib/jobs/webhook-address'
import { newWebhookSecret } from '@/lib/jobs/webhook-secret'
import { readWebhookToTell } from '@/lib/store/read/webhook'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putWebhook, renewWebhookSecret } from '@/lib/store/write/put-webhook'
import { requirePerson } from '../../require-person'
import { done, type FormState, parseForm, refused } from '../../ui/form-state'

/** The start has made sure that it says yes or no. */
const RULES = { anywhere: process.env.GUDGEON_WEBHOOKS_ANYWHERE === 'yes' }

const webhookSchema = z.object({
  address: z
    .string()
    .trim()
    .superRefine((address, context) => {
      const wrong = wrongWithAddress(address, RULES)
      if (wrong !== null) context.addIssue({ code: 'custom', message: wrong })
    }),
  on: z.enum(['yes', 'no'], 'Choose whether it is told.'),
})

const ONCE =
  'Copy the secret now: it will not be shown again. The other program checks with it that a notice is yours.'

/** Says which address is told of stops; the first time with the secret that signs what it is told. */
export async function changeWebhook(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('manage-webhook')
  const parsed = parseForm(webhookSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { address, on } = parsed.value
  const newSecret = newWebhookSecret()
  const isFirst = await withOrganisation(
    database,
    organisation,
    (scope) =>
      putWebhook(scope, { address, isOn: on === 'yes', newSecret }, { now: new Date(), by: person.id }),
    'write',
  )
  revalidatePath('/settings')
  const kept =
    on === 'yes' ? 'Kept. It is told from now on.' : 'Kept. It is told nothing until you switch it on.'
  return done(before, isFirst ? `${kept} ${ONCE}` : kept, isFirst ? { once: newSecret } : {})
}

/** Makes a new secret and shows it this once. */
export async function renewSecret(before: FormState): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('manage-webhook')
  const once = newWebhookSecret()
  const by = { now: new Date(), by: person.id }
  const changed = await withOrganisation(
    database,
    organisation,
    (scope) => renewWebhookSecret(scope, once, by),
    'write',
  )
  revalidatePath('/settings')
  if (!changed) return done(before, 'There is no address yet. Give one first.')
  return done(before, `${ONCE} For a day the one before counts as well, so that nothing is lost meanwhile.`, {
    once,
  })
}

/** Has the address told a test. */
export async function sendTest(before: FormState): Promise<FormState> {
  const { database, organisation } = await requirePerson('manage-webhook')
  const now = new Date()
  const isSent = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const isOn = (await readWebhookToTell(scope, now)) !== null
      if (isOn) await testWebhook(scope, now)
      return isOn
    },
    'write',
  )
  revalidatePath('/settings')
  return done(
    before,
    isSent
      ? 'A test is on its way; the list below says whether it arrived. Load the page again in some seconds.'
      : 'It is switched off. Switch it on first.',
  )
}

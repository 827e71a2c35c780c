'use server'

import { unsubscribe } from '@/lib/people/unsubscribe'
import { productDatabase } from '@/lib/store/product-database'
import { done, type FormState, refused } from '../../../ui/form-state'

/** Stops the mails of whoever the link was sent to: its key is all that is asked for. */
export async function stopMails(key: string, before: FormState, data: FormData): Promise<FormState> {
  if (await unsubscribe(await productDatabase(), String(key), new Date()))
    return done(before, 'Stopped. You get no more of these mails; under Settings they begin again.')
  return refused(before, data, [
    {
      field: null,
      message: 'This link is not whole. Copy all of it from the mail, or stop them under Settings.',
    },
  ])
}

'use server'

import { headers } from 'next/headers'
import { after } from 'next/server'
import { type Post, postFrom } from '@/lib/jobs/post'
import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import { resetMail } from '@/lib/people/link-mail'
import { makeReset, tooManyResets } from '@/lib/people/password-reset'
import { productDatabase } from '@/lib/store/product-database'
import { done, type FormState, parseForm, refused } from '../ui/form-state'
import { forgotSchema } from './door-forms'
import { RESET_WORDS } from './reset-words'

/** Sends whoever signs in with an address a link for a new password; to whoever asks it says the same of any address. */
export async function sendReset(before: FormState, data: FormData): Promise<FormState> {
  const post = postFrom(process.env)
  if (!post) return refused(before, data, [{ field: null, message: RESET_WORDS.noMail }])
  const parsed = parseForm(forgotSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const asked = { mail: parsed.value.mail, headers: await headers(), now: new Date() }
  if (await tooManyResets(await productDatabase(), asked))
    return refused(before, data, [{ field: null, message: RESET_WORDS.tooOften }])
  // Looked up once the answer is given: how long it takes tells nothing of the address either.
  after(() => sendLink(post, asked))
  return done(before, RESET_WORDS.sent)
}

async function sendLink(post: Post, asked: { mail: string; now: Date }): Promise<void> {
  const made = await makeReset(await productDatabase(), asked)
  if (!made) return
  const link = `${post.publicAddress}/reset/${made.key}`
  await post.send(resetMail({ ...made.person, link })).catch((error) => logFailedWork('mail', error))
}

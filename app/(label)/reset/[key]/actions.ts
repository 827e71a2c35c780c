'use server'

import { z } from 'zod'
import { resetPassword } from '@/lib/people/password-reset'
import { productDatabase } from '@/lib/store/product-database'
import { RESET_WORDS } from '../../../(door)/reset-words'
import { typedNewPassword } from '../../../typed-account'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'

/** Takes a new password of whoever the link was sent to: its key is all that is asked for. */
export async function chooseNewPassword(key: string, before: FormState, data: FormData): Promise<FormState> {
  const parsed = parseForm(z.object({ password: typedNewPassword }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { password } = parsed.value
  if (!(await resetPassword(await productDatabase(), { key: String(key), password })))
    return refused(before, data, [{ field: null, message: RESET_WORDS.gone }])
  return done(before, RESET_WORDS.kept, { next: { address: '/door', words: 'Sign in' } })
}

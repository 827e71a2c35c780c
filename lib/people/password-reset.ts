import crypto from 'node:crypto'
import { APIError } from 'better-auth/api'
import type { Database } from '@/lib/store/database'
import { type AccountHolder, readAccountByMail } from '@/lib/store/read/account-by-mail'
import { endResets } from '@/lib/store/write/end-resets'
import { tooManyAttempts } from './inner/attempts'
import { signInOf } from './sign-in'

/** So long a link for a new password works. */
export const RESET_MINUTES = 60

/** Under which name the sign-in library looks a link up; it keeps the hash of it. */
const identifierOf = (key: string) => `reset-password:${key}`

/** Counts one more wish for a link, as attempts to sign in are counted. @returns whether it is one too many */
export const tooManyResets = (
  database: Database,
  { mail, ...asked }: { mail: string; headers: Headers; now: Date },
): Promise<boolean> => tooManyAttempts(database, 'reset', { account: mail, ...asked })

/**
 * Makes a link by which whoever signs in with a mail address chooses a new password, once; an earlier one works no more.
 *
 * @returns what it carries, which is kept nowhere; null where nobody signs in with that address
 */
export async function makeReset(
  database: Database,
  { mail, now }: { mail: string; now: Date },
): Promise<{ person: AccountHolder; key: string } | null> {
  const person = await readAccountByMail(database, mail)
  if (!person) return null
  await endResets(database, person.id)
  const key = crypto.randomBytes(32).toString('base64url')
  const { internalAdapter } = await signInOf(database).$context
  await internalAdapter.createVerificationValue({
    identifier: identifierOf(key),
    value: person.id,
    expiresAt: new Date(now.getTime() + RESET_MINUTES * 60_000),
  })
  return { person, key }
}

/** Whether a link still works. */
export async function isResetOpen(database: Database, key: string, now: Date): Promise<boolean> {
  const { internalAdapter } = await signInOf(database).$context
  const found = await internalAdapter.findVerificationValue(identifierOf(key))
  return found !== null && found.expiresAt > now
}

/** Takes a new password by a link, once, and ends every session of whose it is. @returns false where it does not work */
export async function resetPassword(
  database: Database,
  { key, password }: { key: string; password: string },
): Promise<boolean> {
  try {
    await signInOf(database).api.resetPassword({ body: { token: key, newPassword: password } })
    return true
  } catch (error) {
    if (error instanceof APIError) return false
    throw error
  }
}

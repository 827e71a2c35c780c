import { APIError } from 'better-auth/api'
import type { Database } from '@/lib/store/database'
import { tooManyAttempts } from './inner/attempts'
import { signInOf } from './sign-in'

export type PasswordEntry =
  /** The headers with the session's cookie. */
  | { ok: true; headers: Headers }
  /** Nothing says whether there is such an account. */
  | { ok: false; reason: 'wrong' | 'too-often' }

/**
 * Enters with mail and password.
 *
 * @param headers of the request
 */
export async function enterWithPassword(
  database: Database,
  { mail, password, headers, now }: { mail: string; password: string; headers: Headers; now: Date },
): Promise<PasswordEntry> {
  if (await tooManyAttempts(database, 'sign-in', { account: mail, headers, now }))
    return { ok: false, reason: 'too-often' }
  try {
    const body = { email: mail, password }
    const entered = await signInOf(database).api.signInEmail({ body, headers, returnHeaders: true })
    return { ok: true, headers: entered.headers }
  } catch (error) {
    if (error instanceof APIError) return { ok: false, reason: 'wrong' }
    throw error
  }
}

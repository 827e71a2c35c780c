import { APIError } from 'better-auth/api'
import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { countAttempt } from '@/lib/store/write/count-attempt'
import { hashed, hashedAddress } from './inner/client-address'
import { accountMark, addressMark } from './inner/marks'
import { signInOf } from './sign-in'

/** Attempts within a minute: of one account, from wherever; and from one address of the network, at any account. */
const ATTEMPTS = { account: 5, address: 20 }

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
  const account = await countAttempt(database, { key: `account ${hashed(mail.toLowerCase())}`, now })
  const address = await countAttempt(database, { key: `address ${hashedAddress(headers)}`, now })
  if (account > ATTEMPTS.account || address > ATTEMPTS.address) {
    const limit = account > ATTEMPTS.account ? 'account' : 'address'
    logEvent('sign-in limited', { limit, account: accountMark(mail), from: addressMark(headers) })
    return { ok: false, reason: 'too-often' }
  }
  try {
    const body = { email: mail, password }
    const entered = await signInOf(database).api.signInEmail({ body, headers, returnHeaders: true })
    return { ok: true, headers: entered.headers }
  } catch (error) {
    if (error instanceof APIError) return { ok: false, reason: 'wrong' }
    throw error
  }
}

import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { countAttempt } from '@/lib/store/write/count-attempt'
import { hashed, hashedAddress } from './client-address'
import { accountMark, addressMark } from './marks'

/** Attempts within a minute: of one account, from wherever; and from one address of the network, at any account. */
const ATTEMPTS = { account: 5, address: 20 }

/** @property account what is attempted at: a mail address, or a session of whoever is signed in */
type Attempt = { account: string; headers: Headers; now: Date }

/**
 * Counts one more attempt at an account.
 *
 * @param what is attempted: each is counted by itself, so that whoever guesses in a browser that was left open keeps
 *   nobody from signing in elsewhere
 * @param headers of the request
 * @returns whether it is one too many
 */
export async function tooManyAttempts(
  database: Database,
  what: 'sign-in' | 'confirm' | 'reset',
  { account, headers, now }: Attempt,
): Promise<boolean> {
  const atAccount = await countAttempt(database, { key: `${what} ${hashed(account.toLowerCase())}`, now })
  const address = await countAttempt(database, { key: `${what} from ${hashedAddress(headers)}`, now })
  if (atAccount <= ATTEMPTS.account && address <= ATTEMPTS.address) return false
  const limit = atAccount > ATTEMPTS.account ? 'account' : 'address'
  logEvent('sign-in limited', { limit, account: accountMark(account), from: addressMark(headers) })
  return true
}

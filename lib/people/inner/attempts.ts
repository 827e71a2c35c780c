import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { countAttempt } from '@/lib/store/write/count-attempt'
import { hashed, hashedAddress } from './client-address'
import { accountMark, addressMark } from './marks'

/** Attempts within a minute: of one account, from wherever; and from one address of the network, at any account. */
const ATTEMPTS = { account: 5, address: 20 }

type Attempt = { mail: string; headers: Headers; now: Date }

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
  { mail, headers, now }: Attempt,
): Promise<boolean> {
  const account = await countAttempt(database, { key: `${what} ${hashed(mail.toLowerCase())}`, now })
  const address = await countAttempt(database, { key: `${what} from ${hashedAddress(headers)}`, now })
  if (account <= ATTEMPTS.account && address <= ATTEMPTS.address) return false
  const limit = account > ATTEMPTS.account ? 'account' : 'address'
  logEvent('sign-in limited', { limit, account: accountMark(mail), from: addressMark(headers) })
  return true
}

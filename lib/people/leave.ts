import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { signInOf } from './sign-in'

/**
 * Ends the session of a request, or every session of whoever sent it.
 *
 * @returns the headers that take the session's cookie away
 */
export async function leave(
  database: Database,
  { headers, everywhere }: { headers: Headers; everywhere: boolean },
): Promise<Headers> {
  const { api } = signInOf(database)
  const session = await api.getSession({ headers })
  if (everywhere && session) await api.revokeSessions({ headers })
  if (session) logEvent('session ended', { person: session.user.id, scope: everywhere ? 'all' : 'one' })
  return (await api.signOut({ headers, returnHeaders: true })).headers
}

import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readMembers } from '@/lib/store/read/members'
import { withOrganisation } from '@/lib/store/with-organisation'
import { endAllSessions } from '@/lib/store/write/end-sessions'

/**
 * Ends every session of somebody who belongs to the organisation, wherever they are signed in. They can sign in again:
 * it is for a phone that was lost, or a browser that was left open.
 *
 * @param by whoever does it
 * @returns how many sessions ended; null where they do not belong
 */
export async function signMemberOut(
  database: Database,
  { organisation, person, by }: { organisation: OrganisationId; person: string; by: string },
): Promise<number | null> {
  const members = await withOrganisation(database, organisation, readMembers)
  if (!members.some(({ id }) => id === person)) return null
  const ended = await endAllSessions(database, person)
  if (ended > 0) logEvent('session ended', { person, scope: 'all', by })
  return ended
}

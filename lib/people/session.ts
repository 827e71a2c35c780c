import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { noteIfRoom } from '@/lib/store/disk-full'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { type Membership, readMemberships } from '@/lib/store/read/memberships'
import type { Role } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { withPerson } from '@/lib/store/with-person'
import { notePresence } from '@/lib/store/write/note-presence'
import { type Act, can } from './permissions'
import { signInOf } from './sign-in'

/** Whoever asks, and for which organisation: what every read and every act is for. */
export type Present = {
  person: { id: string; name: string }
  organisation: OrganisationId
  organisationName: string
  role: Role
}

/** Somebody at a page; they may belong to other organisations, too. */
export type PresentPerson = Present & { memberships: Membership[] }

export type Asked =
  | { ok: true; present: PresentPerson }
  | { ok: false; reason: 'signed-out' | 'no-organisation' | 'not-allowed' }

/** What a request brings: its headers with the session's cookie, the organisation that was last chosen, and when. */
export type Request = { headers: Headers; chosen: string | undefined; now: Date }

/** Noted once in so long: when somebody was last here is asked in hours and days. */
const NOTED_AFTER_MS = 600_000

/**
 * Who is here. Session and membership are read from the database each time, so that whoever is signed out, or no longer
 * belongs, is out at once. Of several organisations it is the chosen one, else the one that they belong to longest.
 * Notes that they were there.
 */
export async function findPerson(database: Database, { headers, chosen, now }: Request): Promise<Asked> {
  const session = await signInOf(database).api.getSession({ headers })
  if (!session) return { ok: false, reason: 'signed-out' }
  const { id, name } = session.user
  const memberships = await withPerson(database, id, readMemberships)
  const here = memberships.find(({ organisation }) => organisation === chosen) ?? memberships[0]
  if (!here) return { ok: false, reason: 'no-organisation' }
  const { organisationName, role, lastSeenAt } = here
  const organisation = organisationId(here.organisation)
  if (now.getTime() - (lastSeenAt?.getTime() ?? 0) > NOTED_AFTER_MS)
    await noteIfRoom(() =>
      withOrganisation(database, organisation, (scope) => notePresence(scope, { person: id, now })),
    )
  const present = { person: { id, name }, organisation, organisationName, role }
  return { ok: true, present: { ...present, memberships } }
}

/** Whoever was found to ask, as far as their role includes an act; that it does not is logged. */
export function allowedTo(asked: Asked, act: Act): Asked {
  if (!asked.ok || can(asked.present.role, act)) return asked
  const { person, organisation, role } = asked.present
  logEvent('permission refused', { person: person.id, organisation, role, act })
  return { ok: false, reason: 'not-allowed' }
}

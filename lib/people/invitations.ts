import crypto from 'node:crypto'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readAccountByMail } from '@/lib/store/read/account-by-mail'
import {
  type InvitationState,
  type InvitationToCheck,
  readInvitationToCheck,
} from '@/lib/store/read/invitations'
import { readMembers } from '@/lib/store/read/members'
import type { Role } from '@/lib/store/role'
import { pack, unpack } from '@/lib/store/secret-text'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import type { NewPerson } from '@/lib/store/write/create-organisation'
import { addInvitation, joinByInvitation } from '@/lib/store/write/invitation'
import { signInOf } from './sign-in'
import { hashOfSecret } from './token-text'

const SECRET_BYTES = 32
const DAY_MS = 86_400_000

/** So long an invitation can be accepted. */
export const INVITATION_DAYS = 7

export type Invited = { ok: true; key: string; expiresAt: Date } | { ok: false; reason: 'belongs-already' }

/**
 * Invites whoever reads a mail address; an earlier invitation to it opens nothing any more.
 *
 * @returns what the link carries, which is kept nowhere and cannot be had again
 */
export async function invite(
  scope: OrganisationScope,
  { mail, role, by, now }: { mail: string; role: Role; by: string; now: Date },
): Promise<Invited> {
  const address = mail.toLowerCase()
  if ((await readMembers(scope)).some((member) => member.mail === address))
    return { ok: false, reason: 'belongs-already' }
  const [secret, expiresAt] = [
    crypto.randomBytes(SECRET_BYTES),
    new Date(now.getTime() + INVITATION_DAYS * DAY_MS),
  ]
  const invitation = { mail: address, role, secretHash: hashOfSecret(secret), by, now, expiresAt }
  const id = await addInvitation(scope, invitation)
  return { ok: true, key: pack({ organisation: scope.organisation, id, secret }), expiresAt }
}

/** What whoever holds an invitation is told of it. */
export type OpenInvitation = Pick<InvitationToCheck, 'mail' | 'role' | 'organisationName' | 'madeByName'> & {
  organisation: OrganisationId
  id: string
  /** Whether somebody signs in with its address already. */
  hasAccount: boolean
}

/** Why an invitation opens nothing. */
export type Closed = Exclude<InvitationState, 'open'> | 'unknown'

export type OpenedInvitation = { ok: true; invitation: OpenInvitation } | { ok: false; reason: Closed }

/**
 * The invitation of a link.
 *
 * @param key what it carries
 */
export async function openInvitation(database: Database, key: string, now: Date): Promise<OpenedInvitation> {
  const parsed = unpack(key, SECRET_BYTES)
  if (!parsed) return { ok: false, reason: 'unknown' }
  const { id, secret } = parsed
  const organisation = organisationId(parsed.organisation)
  const found = await withOrganisation(database, organisation, (scope) =>
    readInvitationToCheck(scope, id, now),
  )
  if (!found || !crypto.timingSafeEqual(found.secretHash, hashOfSecret(secret)))
    return { ok: false, reason: 'unknown' }
  const { secretHash: _, state, ...told } = found
  if (state !== 'open') return { ok: false, reason: state }
  const hasAccount = (await readAccountByMail(database, told.mail)) !== null
  return { ok: true, invitation: { ...told, organisation, id, hasAccount } }
}

export type Joined =
  | { ok: true; invitation: OpenInvitation }
  | { ok: false; reason: Closed | 'has-account' | 'signed-out' | 'somebody-else' }

/** Joins as somebody who is new here, with a name and a password of their own. */
export async function joinAsNew(
  database: Database,
  key: string,
  { name, password, now }: { name: string; password: string; now: Date },
): Promise<Joined> {
  const opened = await openInvitation(database, key, now)
  if (!opened.ok) return opened
  const { mail, hasAccount } = opened.invitation
  if (hasAccount) return { ok: false, reason: 'has-account' }
  const passwords = (await signInOf(database).$context).password
  const account = { mail, passwordHash: await passwords.hash(password) }
  return join(database, opened.invitation, { person: { name, account }, now })
}

/** Joins as whoever is signed in, if it is them who was invited. */
export async function joinAsPresent(
  database: Database,
  key: string,
  { headers, now }: { headers: Headers; now: Date },
): Promise<Joined> {
  const opened = await openInvitation(database, key, now)
  if (!opened.ok) return opened
  const session = await signInOf(database).api.getSession({ headers })
  if (!session) return { ok: false, reason: 'signed-out' }
  if (session.user.email !== opened.invitation.mail) return { ok: false, reason: 'somebody-else' }
  return join(database, opened.invitation, { person: session.user.id, now })
}

async function join(
  database: Database,
  invitation: OpenInvitation,
  { person, now }: { person: string | NewPerson; now: Date },
): Promise<Joined> {
  const { organisation, id } = invitation
  const joined = await withOrganisation(
    database,
    organisation,
    (scope) => joinByInvitation(scope, { id, person, now }),
    'write',
  )
  return joined ? { ok: true, invitation } : { ok: false, reason: 'accepted' }
}

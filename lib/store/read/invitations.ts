import { Prisma } from '@/prisma/client/client'
import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** What has become of an invitation. */
export type InvitationState = 'open' | 'accepted' | 'withdrawn' | 'expired'

/** An invitation as it is listed: never its secret. */
export type ListedInvitation = {
  id: string
  mail: string
  role: Role
  madeByName: string | null
  madeAt: Date
  expiresAt: Date
  state: InvitationState
  /** When it was accepted or withdrawn. */
  endedAt: Date | null
}

const state = (now: Date) => Prisma.sql`
  case when accepted_at is not null then 'accepted' when withdrawn_at is not null then 'withdrawn'
    when expires_at <= ${now} then 'expired' else 'open' end`

/** So many are listed: the open ones and the latest of the others. */
const MOST_LISTED = 50

/** The invitations, the open ones first, each kind the youngest first. */
export function readInvitations({ tx }: OrganisationScope, now: Date): Promise<ListedInvitation[]> {
  return tx.$queryRaw<ListedInvitation[]>`
    select invitations.id::text, mail, role, people.name as "madeByName", made_at as "madeAt",
      expires_at as "expiresAt", ${state(now)} as state, coalesce(accepted_at, withdrawn_at) as "endedAt"
    from invitations left join people on people.id = invitations.made_by
    order by ${state(now)} <> 'open', made_at desc, invitations.id desc
    limit ${MOST_LISTED}`
}

/** What an invitation is checked by, and what whoever holds it is told. */
export type InvitationToCheck = {
  mail: string
  role: Role
  secretHash: Uint8Array
  state: InvitationState
  organisationName: string
  madeByName: string | null
}

/** An invitation of the organisation; null for none of that id. */
export async function readInvitationToCheck(
  { tx, organisation }: OrganisationScope,
  id: string,
  now: Date,
): Promise<InvitationToCheck | null> {
  const [found] = await tx.$queryRaw<InvitationToCheck[]>`
    select mail, role, secret_hash as "secretHash", ${state(now)} as state,
      organisations.name as "organisationName", people.name as "madeByName"
    from invitations join organisations on organisations.id = ${organisation}::uuid
      left join people on people.id = invitations.made_by
    where invitations.id = ${id}::uuid`
  return found ?? null
}

import type { Role } from '../role'
import type { PersonScope } from '../with-person'

/** An organisation that a person belongs to, by its id as text, the role there, and when they were last there. */
export type Membership = {
  organisation: string
  organisationName: string
  role: Role
  lastSeenAt: Date | null
}

/** Where a person belongs, the longest first. */
export async function readMemberships({ tx, person }: PersonScope): Promise<Membership[]> {
  return tx.$queryRaw<Membership[]>`
    select organisations.id::text as organisation, organisations.name as "organisationName", memberships.role,
      last_seen_at as "lastSeenAt"
    from memberships join organisations on organisations.id = memberships.organisation_id
    where memberships.person_id = ${person}::uuid
    order by memberships.made_at, memberships.organisation_id`
}

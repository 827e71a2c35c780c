import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** Somebody who belongs to the organisation. `mail` is null for a person of this machine, who has no password. */
export type Member = { id: string; name: string; mail: string | null; role: Role; lastSeenAt: Date | null }

export async function readMembers({ tx }: OrganisationScope): Promise<Member[]> {
  return tx.$queryRaw<Member[]>`
    select people.id::text, people.name, memberships.role, last_seen_at as "lastSeenAt",
      case when exists (select from accounts where user_id = people.id) then people.email end as mail
    from memberships join people on people.id = memberships.person_id
    order by memberships.made_at, people.id`
}

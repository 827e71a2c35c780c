import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** An organisation without an owner could never be given one again: its last one stays what they are. */
export type MembershipChange = 'changed' | 'last-owner' | 'no-member'

/** Gives a member another role. */
export async function changeRole(
  scope: OrganisationScope,
  { person, role }: { person: string; role: Role },
): Promise<MembershipChange> {
  const held = await hold(scope, person)
  if (held === null) return 'no-member'
  if (held.isLastOwner && role !== 'owner') return 'last-owner'
  await scope.tx.$executeRaw`update memberships set role = ${role} where person_id = ${person}::uuid`
  return 'changed'
}

/** Removes a member with what they wished for themself; what they recorded keeps their name. */
export async function removeMember(scope: OrganisationScope, person: string): Promise<MembershipChange> {
  const held = await hold(scope, person)
  if (held === null) return 'no-member'
  if (held.isLastOwner) return 'last-owner'
  await scope.tx.$executeRaw`delete from digest_wishes where person_id = ${person}::uuid`
  await scope.tx.$executeRaw`delete from memberships where person_id = ${person}::uuid`
  return 'changed'
}

/** Holds all members, so that of two owners who remove each other at once one stays. */
async function hold({ tx }: OrganisationScope, person: string): Promise<{ isLastOwner: boolean } | null> {
  const members = await tx.$queryRaw<{ person: string; role: Role }[]>`
    select person_id::text as person, role from memberships order by person_id for update`
  const held = members.find((each) => each.person === person)
  const owners = members.filter(({ role }) => role === 'owner')
  return held ? { isLastOwner: held.role === 'owner' && owners.length === 1 } : null
}

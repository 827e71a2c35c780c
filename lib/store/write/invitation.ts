import { writtenActor } from '../actor'
import { addPerson, type NewPerson } from '../inner/add-person'
import { newId } from '../inner/new-id'
import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** An invitation to be kept: for whom, as what, the hash of its secret, and until when. */
export type NewInvitation = {
  mail: string
  role: Role
  secretHash: Uint8Array
  by: string
  now: Date
  expiresAt: Date
}

/** Keeps an invitation; an earlier one to the same address that nobody has accepted is withdrawn. @returns its id */
export async function addInvitation(
  { tx, organisation }: OrganisationScope,
  { mail, role, secretHash, by, now, expiresAt }: NewInvitation,
): Promise<string> {
  await tx.$executeRaw`
    update invitations set withdrawn_at = ${now}
    where mail = ${mail} and accepted_at is null and withdrawn_at is null`
  const id = newId(now)
  await tx.$executeRaw`
    insert into invitations (organisation_id, id, mail, role, secret_hash, made_by, made_at, expires_at)
    values (${organisation}::uuid, ${id}::uuid, ${mail}, ${role}, ${secretHash}, ${by}::uuid, ${now}, ${expiresAt})`
  return id
}

/** Withdraws an invitation; false where there is none of that id that could still be accepted. */
export async function withdrawInvitation(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<boolean> {
  const withdrawn = await tx.$executeRaw`
    update invitations set withdrawn_at = ${now}
    where id = ${id}::uuid and accepted_at is null and withdrawn_at is null`
  return withdrawn === 1
}

/**
 * Makes somebody a member by an invitation, once: of two at the same moment one comes too late. Whoever belongs already
 * keeps their role. It is they who do it, whoever acts until they are there.
 *
 * @param person somebody who is there already (the id), or who is new here
 * @returns false where it cannot be accepted any more
 */
export async function joinByInvitation(
  { tx, organisation }: OrganisationScope,
  { id, person, now }: { id: string; person: string | NewPerson; now: Date },
): Promise<boolean> {
  const [taken] = await tx.$queryRaw<{ role: Role }[]>`
    update invitations set accepted_at = ${now}
    where id = ${id}::uuid and accepted_at is null and withdrawn_at is null and expires_at > ${now}
    returning role`
  if (!taken) return false
  const joined = typeof person === 'string' ? person : await addPerson(tx, person, now)
  await tx.$queryRaw`
    select set_config('gudgeon.actor', ${writtenActor({ kind: 'person', id: joined })}, true)`
  await tx.$executeRaw`update invitations set accepted_by = ${joined}::uuid where id = ${id}::uuid`
  await tx.$executeRaw`
    insert into memberships (organisation_id, person_id, role, made_at)
    values (${organisation}::uuid, ${joined}::uuid, ${taken.role}, ${now})
    on conflict (organisation_id, person_id) do nothing`
  return true
}

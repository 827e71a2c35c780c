import { newId } from '../inner/new-id'
import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** A token to be kept: its name, what it may do, the hash of its secret, and who makes it (null: a command). */
export type NewToken = { name: string; role: Role; secretHash: Uint8Array; by: string | null; now: Date }

/** Keeps a new token; answers its id. */
export async function addToken({ tx, organisation }: OrganisationScope, token: NewToken): Promise<string> {
  const id = newId(token.now)
  await tx.$executeRaw`
    insert into tokens (organisation_id, id, name, role, secret_hash, made_by, made_at)
    values (${organisation}::uuid, ${id}::uuid, ${token.name}, ${token.role}, ${token.secretHash}, ${token.by}::uuid,
      ${token.now})`
  return id
}

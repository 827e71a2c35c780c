import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** What a token is checked by. Times as instants. */
export type TokenToCheck = {
  name: string
  role: Role
  organisationName: string
  secretHash: Uint8Array
  lastUsedAt: Date | null
}

/** A token of the organisation that has not been revoked; null for none. */
export async function readTokenToCheck(
  { tx, organisation }: OrganisationScope,
  id: string,
): Promise<TokenToCheck | null> {
  const [found] = await tx.$queryRaw<TokenToCheck[]>`
    select tokens.name, tokens.role, organisations.name as "organisationName", secret_hash as "secretHash",
      last_used_at as "lastUsedAt"
    from tokens join organisations on organisations.id = ${organisation}::uuid
    where tokens.id = ${id}::uuid and revoked_at is null`
  return found ?? null
}

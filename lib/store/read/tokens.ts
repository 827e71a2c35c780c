import type { Role } from '../role'
import type { OrganisationScope } from '../with-organisation'

/** A token of the machine interface as it is listed: never its secret. */
export type ListedToken = {
  id: string
  name: string
  role: Role
  /** Whoever made it; null for one made on the command line. */
  madeBy: string | null
  madeAt: Date
  lastUsedAt: Date | null
  revokedAt: Date | null
}

/** Every token, those in use first, each kind the youngest first. */
export async function readTokens({ tx }: OrganisationScope): Promise<ListedToken[]> {
  return tx.$queryRaw<ListedToken[]>`
    select tokens.id::text, tokens.name, tokens.role, people.name as "madeBy", made_at as "madeAt",
      last_used_at as "lastUsedAt", revoked_at as "revokedAt"
    from tokens left join people on people.id = tokens.made_by
    order by revoked_at is not null, made_at desc, tokens.id desc`
}

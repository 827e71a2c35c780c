import crypto from 'node:crypto'
import { type Client, escapeIdentifier, escapeLiteral } from 'pg'

/** The login role that the product works as: it owns nothing and row-level security holds for it. */
export const PRODUCT_ROLE = 'gudgeon_app'

/**
 * The product's address on the server of `adminUrl`. Its password follows from the administrator's, so that every
 * installation that may migrate knows it and none has to keep it.
 */
export function productUrl(adminUrl: string): string {
  const url = new URL(adminUrl)
  url.password = crypto
    .createHmac('sha256', decodeURIComponent(url.password))
    .update(PRODUCT_ROLE)
    .digest('hex')
  url.username = PRODUCT_ROLE
  return url.href
}

/**
 * Makes the product's role, or gives an existing one its password.
 *
 * @param client an administrator's session with the right to create roles
 */
export async function ensureProductRole(client: Client, password: string): Promise<void> {
  const { rowCount } = await client.query('select from pg_roles where rolname = $1', [PRODUCT_ROLE])
  const verb = rowCount === 0 ? 'create' : 'alter'
  await client.query(`${verb} role ${PRODUCT_ROLE} login password ${escapeLiteral(password)}`)
}

/** What the product reads alone: the database itself writes it. */
const READ_ONLY = 'audit_lines, erasures'

/** Lets `role` read and write every table but the list of migrations, and have filled ones looked at. Right after migrations: new tables need it too. */
export async function grantTables(client: Client, role: string): Promise<void> {
  const name = escapeIdentifier(role)
  await client.query(`
    grant usage on schema public to ${name};
    grant select, insert, update, delete on all tables in schema public to ${name};
    revoke insert, update, delete on ${READ_ONLY} from ${name};
    grant usage, select on all sequences in schema public to ${name};
    grant execute on function look_at_filled_tables to ${name};
    revoke all on _prisma_migrations from ${name}`)
}

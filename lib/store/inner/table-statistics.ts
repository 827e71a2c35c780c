import { type Client, escapeIdentifier } from 'pg'

/** Tables that hold rows of which the server knows no number: a negative one was never looked at, nought was empty. */
const UNKNOWN = `
  select relname as name from pg_class
  where relnamespace = 'public'::regnamespace and relkind = 'r' and reltuples <= 0 and pg_relation_size(oid) > 0
  order by relname`

/**
 * Has the server gather the statistics of the tables that it knows nothing of.
 *
 * @param client a session of the tables' owner
 */
export async function analyseUnknown(client: Client): Promise<void> {
  const { rows } = await client.query<{ name: string }>(UNKNOWN)
  if (rows.length > 0)
    await client.query(`analyze ${rows.map(({ name }) => escapeIdentifier(name)).join(', ')}`)
}

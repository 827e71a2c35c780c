import { runSql } from '../store/test-database'

/** Every table of the organisations. */
async function tablesOf(adminUrl: string): Promise<string[]> {
  const rows = await runSql(
    adminUrl,
    `select relname as name from pg_class join pg_attribute on attrelid = pg_class.oid and attname = 'organisation_id'
     where relkind in ('r', 'p') and not relispartition and relnamespace = 'public'::regnamespace order by 1`,
  )
  return rows.map(({ name }) => String(name))
}

/** What an organisation has, a digest of all its rows by table. */
export async function contentOf(adminUrl: string, organisation: string): Promise<Record<string, unknown>> {
  const digests = (await tablesOf(adminUrl)).map(
    (table) => `(select md5(string_agg(t::text, ' ' order by t::text)) from ${table} t
      where organisation_id = '${organisation}') as ${table}`,
  )
  const [content = {}] = await runSql(adminUrl, `select ${digests.join(', ')}`)
  return content
}

/** Ids that the rows of `every-table.ts` have. */
const MADE_UP = '00000000-0000-7000-8000-%'

/**
 * Gives every made-up id of an organisation's rows the same value, and one record of each kind as well: whatever an action
 * takes for an id is then one of theirs.
 */
export async function oneIdForAll(adminUrl: string, organisation: string, id: string): Promise<void> {
  const columns = await runSql(
    adminUrl,
    `select table_name as "table", column_name as "column" from information_schema.columns
     where table_schema = 'public' and udt_name = 'uuid' and column_name not in ('organisation_id', 'vehicle_id')`,
  )
  const tables = await tablesOf(adminUrl)
  const updates = columns
    .filter(({ table }) => tables.includes(String(table)) && table !== 'audit_lines')
    .map(
      ({ table, column }) => `update ${table} set ${column} = '${id}'
        where organisation_id = '${organisation}' and ${column}::text like '${MADE_UP}'`,
    )
  const records = ['readings', 'codes', 'checks', 'repairs', 'changes'].map(
    (table) => `update ${table} set id = '${id}' where organisation_id = '${organisation}'
      and id = (select id from ${table} where organisation_id = '${organisation}' order by id limit 1)`,
  )
  // What refers to the rows changes with them: it is not asked in between.
  await runSql(adminUrl, 'set session_replication_role = replica', ...updates, ...records)
}

import type { Client } from 'pg'

/** A table of the product as the catalogue has it. */
export type Table = {
  name: string
  /** The columns that are written; computed ones follow from them. */
  columns: string[]
  /** Its rows belong to organisations, and row-level security holds its owner too. */
  ofOrganisations: boolean
}

const LIST = `
  select name, columns, 'organisation_id' = any(columns) as "ofOrganisations" from (
    select pg_class.oid, relname as name, array_agg(attname::text order by attnum) as columns
    from pg_class join pg_attribute on attrelid = pg_class.oid
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and relname <> '_prisma_migrations' and not relispartition
      and attnum > 0 and not attisdropped and attgenerated = ''
    group by pg_class.oid, relname) found
  order by name`

const REFERENCES = `
  select distinct conrelid::regclass::text as "from", confrelid::regclass::text as "to"
  from pg_constraint where contype = 'f' and connamespace = 'public'::regnamespace and conrelid <> confrelid`

/** Every table but the list of migrations, a partitioned one as a whole; what others refer to comes first. */
export async function productTables(client: Client): Promise<Table[]> {
  const { rows: tables } = await client.query<Table>(LIST)
  const { rows: references } = await client.query<{ from: string; to: string }>(REFERENCES)
  const sorted: Table[] = []
  while (sorted.length < tables.length) {
    const ready = tables.filter(
      (table) =>
        !sorted.includes(table) &&
        references.every(({ from, to }) => from !== table.name || sorted.some(({ name }) => name === to)),
    )
    if (ready.length === 0) throw new Error('Tables refer to each other in a circle')
    sorted.push(...ready)
  }
  return sorted
}

/** The migrations that have been applied, in order: two databases with the same ones have the same tables. */
export async function appliedMigrations(client: Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(
    `select migration_name as name from _prisma_migrations
     where finished_at is not null and rolled_back_at is null order by migration_name`,
  )
  return rows.map(({ name }) => name)
}

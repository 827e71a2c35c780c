import type { OrganisationScope } from '../with-organisation'

/** A table with its columns that hold text in any form, with their types. */
export type TextTable = { table: string; hasId: boolean; columns: { name: string; type: string }[] }

/**
 * Every table of an organisation that the product writes, with its columns of text: from the catalogue, so that a table
 * which comes later is not forgotten.
 */
export function readTextTables({ tx }: OrganisationScope): Promise<TextTable[]> {
  return tx.$queryRaw<TextTable[]>`
    select relname::text as "table",
      exists (select from pg_attribute key where key.attrelid = pg_class.oid and key.attname = 'id') as "hasId",
      json_agg(json_build_object('name', attname, 'type', format_type(atttypid, atttypmod)) order by attnum) as columns
    from pg_class join pg_attribute on attrelid = pg_class.oid and attnum > 0 and not attisdropped
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and not relispartition
      and attgenerated = ''
      and atttypid in ('text'::regtype, 'varchar'::regtype, 'json'::regtype, 'jsonb'::regtype, 'text[]'::regtype)
      and exists (select from pg_attribute own where own.attrelid = pg_class.oid and own.attname = 'organisation_id')
      and has_table_privilege(pg_class.oid, 'update')
    group by pg_class.oid, relname order by relname = 'vehicles' desc, relname`
}

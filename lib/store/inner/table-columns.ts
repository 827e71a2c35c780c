import type { OrganisationScope } from '../with-organisation'

/** A column that is written, with its type as SQL names it. */
export type TableColumn = { table: string; name: string; type: string }

/** The columns of tables, each table's in its order, without the one that says whose a row is. */
export function readTableColumns({ tx }: OrganisationScope, tables: string[]): Promise<TableColumn[]> {
  return tx.$queryRaw<TableColumn[]>`
    select relname::text as "table", attname::text as name, format_type(atttypid, atttypmod) as type
    from pg_class join pg_attribute on attrelid = pg_class.oid
    where relnamespace = 'public'::regnamespace and relname = any(${tables}::text[])
      and attnum > 0 and not attisdropped and attgenerated = '' and attname <> 'organisation_id'
    order by relname, attnum`
}

/** Whether a column says who did something: a person, or a token. */
export const saysWho = ({ name, type }: TableColumn): boolean =>
  type === 'uuid' && /(^|_)by$/.test(name) && name !== 'superseded_by'

/** Numbers that rows are ordered by; they count in the whole database, so only their order has a meaning elsewhere. */
export const PLACE_COLUMN = 'sequence'

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`

import type { Prisma } from '@/prisma/client/client'
import { PLACE_COLUMN, quoted, readTableColumns, type TableColumn } from '../inner/table-columns'
import { MOVED_TABLES, type MovedRows, type MovedTable, type NamedInRows } from '../moved-tables'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/** Why rows from elsewhere were not taken in. The message is for whoever tried. */
export class MoveRefusal extends Error {
  override name = 'MoveRefusal'
}

const ROWS_AT_ONCE = 1000

/**
 * Puts the rows of an organisation from elsewhere into one that is empty, under their own ids. Whoever is named in them
 * and unknown here is kept by name, and cannot come in.
 *
 * @throws MoveRefusal where they are of a later version of the product, or not what an organisation can hold
 */
export async function putMovedRows(
  scope: OrganisationScope,
  { tables, people }: MovedRows,
  now: Date,
): Promise<void> {
  await keepNames(scope, people, now)
  const known = await readTableColumns(scope, Object.keys(MOVED_TABLES))
  const unknown = tables.find(({ name }) => !Object.hasOwn(MOVED_TABLES, name))
  if (unknown) throw laterVersion(unknown.name)
  for (const name of Object.keys(MOVED_TABLES)) {
    const table = tables.find((each) => each.name === name)
    if (table) await putTable(scope, table, columnsOf(table, known))
  }
  await scope.tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${scope.organisation})::text`
}

/** A person with an account of elsewhere has no password here, and is not somebody who comes in at a press either. */
async function keepNames({ tx }: OrganisationScope, people: NamedInRows[], now: Date): Promise<void> {
  const given = JSON.stringify(people)
  await tx.$executeRaw`
    with added as (
      insert into people (id, name, email, created_at, updated_at)
      select given.id, given.name, given.id || '@elsewhere.invalid', ${now}, ${now}
      from json_to_recordset(${given}::json) as given(id uuid, name text)
      on conflict do nothing returning id)
    insert into accounts (id, account_id, provider_id, user_id, created_at, updated_at)
    select id || '-elsewhere', id::text, 'elsewhere', id, ${now}, ${now} from added`
}

function columnsOf({ name, columns }: MovedTable, known: TableColumn[]): TableColumn[] {
  const staying = MOVED_TABLES[name] ?? []
  return columns.map((column) => {
    const found = known.find((each) => each.table === name && each.name === column)
    if (!found || staying.includes(column)) throw laterVersion(`${name}.${column}`)
    return found
  })
}

const laterVersion = (what: string) =>
  new MoveRefusal(`the archive is of a later version of Gudgeon, with ${what}: take it in with that one`)

async function putTable(
  { tx, organisation }: OrganisationScope,
  { name, rows }: MovedTable,
  columns: TableColumn[],
): Promise<void> {
  const placed = await inPlaces(tx, name, rows, columns)
  const names = columns.map((column) => quoted(column.name)).join(', ')
  const values = columns.map(({ type }, i) => `(given.row ->> ${i})::${type}`).join(', ')
  const sql = `insert into ${quoted(name)} (organisation_id, ${names})
    select $1::uuid, ${values} from json_array_elements($2::json) as given(row)`
  for (let from = 0; from < placed.length; from += ROWS_AT_ONCE) {
    const chunk = JSON.stringify(placed.slice(from, from + ROWS_AT_ONCE))
    await tx.$executeRawUnsafe(sql, organisation, chunk).catch((error: Error) => {
      throw new MoveRefusal(`the rows of ${name} cannot be taken in: ${error.message.split('\n').at(-1)}`)
    })
  }
}

/** Rows that have a place get numbers of this database in the order of their places. */
async function inPlaces(
  tx: Prisma.TransactionClient,
  table: string,
  rows: MovedTable['rows'],
  columns: TableColumn[],
): Promise<MovedTable['rows']> {
  const at = columns.findIndex(({ name }) => name === PLACE_COLUMN)
  if (at < 0 || rows.length === 0) return rows
  const places = [...new Set(rows.map((row) => Number(row[at])))].sort((a, b) => a - b)
  const numbers = await tx.$queryRaw<{ number: string }[]>`
    select nextval(pg_get_serial_sequence(${table}, ${PLACE_COLUMN}))::text as number
    from generate_series(1, ${places.length}::int)`
  const numberOf = new Map(places.map((place, i) => [place, numbers[i]?.number ?? null]))
  return rows.map((row) => row.with(at, numberOf.get(Number(row[at])) ?? null))
}

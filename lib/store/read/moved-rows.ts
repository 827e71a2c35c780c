import { PLACE_COLUMN, quoted, readTableColumns, saysWho, type TableColumn } from '../inner/table-columns'
import { MOVED_TABLES, type MovedRows, type MovedTable } from '../moved-tables'
import type { OrganisationScope } from '../with-organisation'
import { readNamesOf } from './names-of'

/** Everything of an organisation that cannot be reckoned again, and the names of whoever is named in it. */
export async function readMovedRows(scope: OrganisationScope): Promise<MovedRows> {
  // Instants are written as one and the same text wherever the server stands.
  await scope.tx.$queryRaw`select set_config('TimeZone', 'UTC', true)`
  const known = await readTableColumns(scope, Object.keys(MOVED_TABLES))
  const tables: MovedTable[] = []
  const ids = new Set<string>()
  for (const [name, staying] of Object.entries(MOVED_TABLES)) {
    const columns = known.filter((column) => column.table === name && !staying.includes(column.name))
    const rows = await readRows(scope, name, columns)
    tables.push({ name, columns: columns.map((column) => column.name), rows })
    for (const id of idsIn(rows, columns)) ids.add(id)
  }
  const names = await readNamesOf(scope, ids)
  const people = [...names].map(([id, name]) => ({ id, name }))
  return { tables, people: people.sort((a, b) => (a.id < b.id ? -1 : 1)) }
}

/** The rows in an order that follows from what they say. */
async function readRows(
  { tx }: OrganisationScope,
  table: string,
  columns: TableColumn[],
): Promise<MovedTable['rows']> {
  const found = await tx.$queryRawUnsafe<{ row: string }[]>(
    `select line as row from (select json_build_array(${columns.map(asText).join(', ')})::text as line from ${quoted(table)}) rows
     order by line collate "C"`,
  )
  return found.map(({ row }) => JSON.parse(row))
}

const asText = ({ name }: TableColumn) =>
  name === PLACE_COLUMN ? `(dense_rank() over (order by ${quoted(name)}))::text` : `${quoted(name)}::text`

function* idsIn(rows: MovedTable['rows'], columns: TableColumn[]): Generator<string> {
  const places = columns.flatMap((column, i) => (saysWho(column) ? [i] : []))
  for (const row of rows) for (const place of places) if (row[place]) yield row[place]
}

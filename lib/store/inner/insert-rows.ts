import type { OrganisationScope } from '../with-organisation'
import type { Column } from './columns'

const ROWS_AT_ONCE = 5000

/** Where rows go. */
export type RowTable = {
  name: string
  columns: Column[]
  /** What happens to a row that is there already. */
  onConflict?: string
}

/**
 * Inserts many rows at once, in their order: one array a column, unnested by the server, which is ten times
 * faster than a parameter a cell. A row becomes its vehicle's, which it names by `unit`.
 *
 * @returns how many rows are new
 */
export async function insertOnVehicles(
  scope: OrganisationScope,
  table: RowTable,
  rows: { unit: string }[],
): Promise<number> {
  const { names, types, aliases, values } = sqlParts(table.columns, 3)
  const sql = `
    insert into "${table.name}" (organisation_id, vehicle_id, ${names})
    select $1::uuid, vehicle.id, ${values}
    from unnest($2::text[], ${types}) with ordinality as given(unit, ${aliases}, place)
    join vehicles vehicle on vehicle.unit = given.unit
    order by given.place ${table.onConflict ?? ''}`
  return inChunks(rows, (chunk) =>
    scope.tx.$executeRawUnsafe(
      sql,
      scope.organisation,
      chunk.map((row) => row.unit),
      ...columnArrays(table.columns, chunk),
    ),
  )
}

/** The same for rows that hang on no vehicle. */
export async function insertRows(scope: OrganisationScope, table: RowTable, rows: object[]): Promise<number> {
  const { names, types, aliases, values } = sqlParts(table.columns, 2)
  const sql = `
    insert into "${table.name}" (organisation_id, ${names})
    select $1::uuid, ${values}
    from unnest(${types}) with ordinality as given(${aliases}, place)
    order by given.place ${table.onConflict ?? ''}`
  return inChunks(rows, (chunk) =>
    scope.tx.$executeRawUnsafe(sql, scope.organisation, ...columnArrays(table.columns, chunk)),
  )
}

function sqlParts(columns: Column[], firstParameter: number) {
  const list = (part: (column: Column, i: number) => string) => columns.map(part).join(', ')
  return {
    names: list(({ name }) => `"${name}"`),
    types: list(({ parameter }, i) => `$${firstParameter + i}::${parameter}[]`),
    aliases: list((_, i) => `c${i}`),
    values: list(({ write }, i) => write(`given.c${i}`)),
  }
}

function columnArrays(columns: Column[], rows: object[]): unknown[][] {
  return columns.map(({ field, toParameter }) =>
    rows.map((row) => toParameter((row as Record<string, unknown>)[field] ?? null)),
  )
}

async function inChunks<Row>(rows: Row[], insert: (chunk: Row[]) => Promise<number>): Promise<number> {
  let inserted = 0
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE)
    inserted += await insert(rows.slice(from, from + ROWS_AT_ONCE))
  return inserted
}

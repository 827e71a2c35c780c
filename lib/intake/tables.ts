import type { z } from 'zod'
import { partColumns } from '@/lib/records/part-stock'
import {
  changeColumns,
  checkColumns,
  codeColumns,
  type Records,
  readingColumns,
  repairColumns,
  vehicleColumns,
} from '@/lib/records/rows'

/** The kinds of table that a data folder holds; each is a list of `Records` and a file of the same name. */
export type TableKind = Exclude<keyof Records, 'settings'>

/** The rows of tables, one list a kind. */
export type RecordLists = Pick<Records, TableKind>

/** Every kind of table with its columns, in the order in which rows may speak of each other: vehicles first. */
export const TABLES = {
  vehicles: vehicleColumns,
  readings: readingColumns,
  codes: codeColumns,
  checks: checkColumns,
  repairs: repairColumns,
  changes: changeColumns,
} satisfies Record<TableKind, z.ZodObject>

export const TABLE_KINDS = Object.keys(TABLES) as TableKind[]

/** What a file of rows may hold: records of vehicles, or parts. */
export type RowKind = TableKind | 'parts'

/** Every kind of file of rows with its columns. */
export const ROWS = { ...TABLES, parts: partColumns } satisfies Record<RowKind, z.ZodObject>

export const ROW_KINDS = Object.keys(ROWS) as RowKind[]

/** Lists without rows. */
export const noRecords = (): RecordLists => ({
  vehicles: [],
  readings: [],
  codes: [],
  checks: [],
  repairs: [],
  changes: [],
})

/** The columns that a table cannot do without. */
export function neededColumns(schema: z.ZodObject): string[] {
  return Object.keys(schema.shape).filter((name) => !schema.shape[name]?.safeParse('').success)
}

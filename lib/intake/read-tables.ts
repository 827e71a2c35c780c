import { columnsOfFile } from './inner/find-header'
import { ReadingDesk } from './inner/reading-desk'
import type { GivenTable, Ground, LargeFile, LargeTable, TableRead } from './table-read'
import { TABLE_KINDS, TABLES } from './tables'

/**
 * Reads files of rows: vehicles first, whatever their order, because the others speak of them. Every row may go in, or
 * is rejected with its line, column and reason. A file that cannot be read is one rejected line.
 *
 * @returns what came of each file, in the order in which they go in.
 */
export function readTables(given: readonly GivenTable[], ground: Ground): TableRead[] {
  const desk = new ReadingDesk(ground)
  return inOrderOfKinds(given).map((table) => desk.read(table))
}

/** The same where large files of records are only opened, to be read while their rows go in. */
export function openTables(
  given: readonly GivenTable[],
  ground: Ground,
  largeFromBytes = LARGE_FROM_BYTES,
): { tables: TableRead[]; large: LargeTable[] } {
  const desk = new ReadingDesk(ground)
  const files = inOrderOfKinds(given)
  const isLarge = (table: GivenTable): table is LargeFile => isLargeFile(table, largeFromBytes)
  return {
    tables: files.filter((table) => !isLarge(table)).map((table) => desk.read(table)),
    large: files.filter(isLarge).map((table) => desk.open(table)),
  }
}

const inOrderOfKinds = (given: readonly GivenTable[]): GivenTable[] =>
  TABLE_KINDS.flatMap((kind) => given.filter((table) => table.kind === kind))

/** As many rows as this holds are there at once without harm. */
const LARGE_FROM_BYTES = 4_000_000

/** Rows with a `ref` may take the place of rows before them: those are read together. */
const isLargeFile = (table: GivenTable, fromBytes: number): table is LargeFile =>
  'bytes' in table &&
  table.kind !== 'vehicles' &&
  table.bytes.length >= fromBytes &&
  !columnsOfFile(table.bytes, TABLES[table.kind]).includes('ref')

import { csvLine } from './csv-line'
import { neededColumns, ROWS, type RowKind } from './tables'

/** A column of a file: what it means in one sentence, and whether every row must fill it. */
export interface ColumnMeaning {
  name: string
  needed: boolean
  meaning: string
}

/** The columns of a kind of file, in the order in which they are written. */
export function columnMeanings(kind: RowKind): ColumnMeaning[] {
  const needed = neededColumns(ROWS[kind])
  return Object.entries(ROWS[kind].shape).map(([name, column]) => ({
    name,
    needed: needed.includes(name),
    meaning: column.description ?? '',
  }))
}

/** A file to begin with: the columns, and two rows as examples. */
export function template(kind: RowKind): string {
  const columns = Object.entries(ROWS[kind].shape)
  const example = (place: number) =>
    columns.map(([, column]) => String(column.meta()?.examples?.[place] ?? ''))
  return [columns.map(([name]) => name), example(0), example(1)].map(csvLine).join('')
}

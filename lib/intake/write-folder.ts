import { type PartRow, partColumns } from '@/lib/records/part-stock'
import { fieldOf, type Records, type SignAt } from '@/lib/records/rows'
import { formatDay } from '@/lib/units/dates'
import { csvLine } from './csv-line'
import { TABLE_KINDS, TABLES } from './tables'

type Row = { notes: Record<string, string> }

/** How the values of some columns are written; text and numbers stand as they are. */
const WRITERS: Record<string, (value: never) => string> = {
  lamp: (value: boolean) => (value ? 'yes' : 'no'),
  positions: (value: number[]) => value.join(' '),
  seen: signs,
  looked_for: signs,
}

/** A column that holds a day. */
const DAY = /(^|_)on$/

/**
 * Records as the files of a data folder, by name: taken in again they are the same records, to the last digit. What
 * was kept as a note is a column again. There is a file of parts where there are any.
 */
export function writeFolder(records: Records, parts: readonly PartRow[] = []): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>()
  for (const kind of TABLE_KINDS)
    files.set(`${kind}.csv`, toBytes(lines(Object.keys(TABLES[kind].shape), records[kind])))
  if (parts.length > 0) files.set('parts.csv', partsFile(parts))
  return files.set('settings.json', toBytes([JSON.stringify(records.settings, null, 2), '\n']))
}

/** Parts as the file that they are brought in with. */
export const partsFile = (parts: readonly PartRow[]): Uint8Array<ArrayBuffer> =>
  toBytes(lines(Object.keys(partColumns.shape), parts))

function* lines(columns: string[], rows: readonly Row[]): Generator<string> {
  const noted = [...new Set(rows.flatMap(({ notes }) => Object.keys(notes)))]
  yield csvLine([...columns, ...noted])
  for (const row of rows)
    yield csvLine([
      ...columns.map((column) => cellOf(column, Reflect.get(row, fieldOf(column)))),
      ...noted.map((note) => row.notes[note] ?? null),
    ])
}

function cellOf(column: string, value: unknown): string | number | null {
  if (value === null || value === undefined) return null
  const write = WRITERS[column]
  if (write) return write(value as never) // a column holds values of one type, which its writer takes
  return DAY.test(column) ? formatDay(value as number) : (value as string | number)
}

function signs(value: SignAt[]): string {
  return value.map(({ sign, position }) => (position === null ? sign : `${sign}@${position}`)).join(' ')
}

const toBytes = (pieces: Iterable<string>) => new TextEncoder().encode([...pieces].join(''))

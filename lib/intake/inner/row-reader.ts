import { z } from 'zod'
import { type Fields, fieldOf } from '@/lib/records/rows'
import { LONGEST_TEXT, tooLong } from '@/lib/records/text-limits'
import type { Fault } from '../findings'
import type { Column } from './header'

/** A row whose cells could all be read; what its names refer to is not yet checked. */
export type ReadRow<Schema extends z.ZodObject> = Fields<z.output<Schema>> & {
  notes: Record<string, string>
  line: number
}

type Answer<Schema extends z.ZodObject> =
  | { ok: true; row: ReadRow<Schema> }
  | { ok: false; fault: Fault }
  | 'blank'

const NO_NOTES: Readonly<Record<string, string>> = Object.freeze({})

/**
 * How the rows of one file are read: cells under a header, through the schema, to a record. The schema's object
 * itself becomes the record (a copy under other names would take three times as long).
 */
export function rowReader<Schema extends z.ZodObject>(schema: Schema, columns: readonly Column[]) {
  const record = z.object(mapKeys(schema.shape, fieldOf))
  const known = columns.filter((column) => column.kind === 'known')
  const inMiles = known.filter(({ factor }) => factor !== 1)
  const writtenAs = new Map(known.map(({ name, written }) => [fieldOf(name), written]))
  const fields = columns.map((column) => (column.kind === 'known' ? fieldOf(column.name) : null))
  const input: Record<string, string> = {}

  return (cells: readonly string[], line: number): Answer<Schema> => {
    if (cells.every(isBlank)) return 'blank'
    if (cells.length > columns.length && !cells.slice(columns.length).every(isBlank))
      return { ok: false, fault: tooMany(cells, columns) }
    fields.forEach((field, i) => {
      if (field !== null) input[field] = cells[i] ?? ''
    })
    const long = noteTooLong(cells, columns)
    if (long !== null) return { ok: false, fault: long }
    const parsed = record.safeParse(input)
    if (!parsed.success) return { ok: false, fault: faultOf(parsed.error, writtenAs) }
    const row: Record<string, unknown> = parsed.data
    for (const { name, factor } of inMiles) {
      const miles = row[fieldOf(name)]
      if (typeof miles === 'number') row[fieldOf(name)] = miles * factor
    }
    row.notes = notesOf(cells, columns)
    row.line = line
    return { ok: true, row: row as ReadRow<Schema> }
  }
}

/** A note that is longer than a text may be. */
function noteTooLong(cells: readonly string[], columns: readonly Column[]): Fault | null {
  for (const [i, { kind, written }] of columns.entries()) {
    const reason = kind === 'note' ? tooLong(cells[i] ?? '', LONGEST_TEXT) : null
    if (reason !== null) return { column: written, reason }
  }
  return null
}

const mapKeys = <Value>(
  values: Record<string, Value>,
  rename: (key: string) => string,
): Record<string, Value> =>
  Object.fromEntries(Object.entries(values).map(([key, value]) => [rename(key), value]))

const isBlank = (cell: string) => cell === '' || cell.trim() === ''

/** What stands in columns that are not ours. Gathered and then made one: there may be ten thousand of them. */
function notesOf(cells: readonly string[], columns: readonly Column[]): Record<string, string> {
  const notes: [string, string][] = []
  columns.forEach((column, i) => {
    const cell = cells[i] ?? ''
    if (column.kind === 'note' && !isBlank(cell)) notes.push([column.written, cell.trim()])
  })
  return notes.length === 0 ? NO_NOTES : Object.fromEntries(notes)
}

const tooMany = (cells: readonly string[], columns: readonly Column[]): Fault => ({
  column: '',
  reason: `the row has ${cells.length} cells, the first line of the file ${columns.length}`,
})

/** The first cell at fault, and the others in words. */
function faultOf(error: z.ZodError, writtenAs: ReadonlyMap<string, string>): Fault {
  const faults = error.issues.map(({ path, message }) => {
    const name = String(path[0] ?? '')
    return { column: writtenAs.get(name) ?? name, reason: message }
  })
  const [first = { column: '', reason: 'the row could not be read' }, ...others] = faults
  const also = others.map(({ column, reason }) => `; ${column}: ${reason}`).join('')
  return { column: first.column, reason: first.reason + also }
}

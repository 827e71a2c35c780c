import type { z } from 'zod'
import type { Fault, Notice, RejectedRow } from '../findings'
import { neededColumns } from '../tables'
import { type CsvRow, csvRows, separatorOf } from './csv'
import { type Header, readHeader } from './header'
import { type ReadRow, rowReader } from './row-reader'
import { decodeText } from './text-file'

export interface Table {
  file: string
  bytes: Uint8Array
}

/** Where the rows of a file go. `take` answers what is wrong with a row, or null where it went in. */
export interface Taker<Schema extends z.ZodObject> {
  schema: Schema
  take: (row: ReadRow<Schema>) => Fault | null
  reject: (row: RejectedRow) => void
  notice: (notice: Notice) => void
}

const LONGEST_SHOWN = 100_000

/**
 * Reads one CSV file row by row: every row is handed to `take` or to `reject`. A file that cannot be read at all is
 * rejected as its first line.
 */
export function readTable<Schema extends z.ZodObject>({ file, bytes }: Table, taker: Taker<Schema>): void {
  if (bytes.length === 0) {
    taker.notice({ file, line: null, message: 'is empty' })
    return
  }
  const refusal = readRows({ file, bytes }, taker)
  if (refusal === null) return
  const reason = `the file ${refusal.reason}; nothing of it was taken in`
  taker.reject({ file, line: 1, column: '', reason, row: refusal.row.slice(0, LONGEST_SHOWN) })
}

/** @returns why no row could be read, with the first line; null where the rows were read. */
function readRows<Schema extends z.ZodObject>(
  { file, bytes }: Table,
  taker: Taker<Schema>,
): { reason: string; row: string } | null {
  const decoded = decodeText(bytes)
  if (!decoded.ok) return { reason: decoded.reason, row: '' }
  const { text, badLines } = decoded
  const [firstLine = ''] = text.split('\n', 1)
  const rows = csvRows(text, separatorOf(firstLine))
  const first = rows.next()
  if (first.done) return { reason: 'needs a first line with its columns', row: '' }
  const header = headerOf(first.value, taker.schema)
  if (!header.ok) return { reason: header.reason, row: text.slice(first.value.start, first.value.end) }
  for (const message of header.near) taker.notice({ file, line: 1, message })
  const read = rowReader(taker.schema, header.columns)
  for (const row of rows) {
    const fault = faultOfBytes(row, badLines) ?? takeRow(row, read, taker)
    if (fault === null) continue
    const written = text.slice(row.start, Math.min(row.end, row.start + LONGEST_SHOWN))
    taker.reject({ file, line: row.line, ...fault, row: written })
  }
  return null
}

function headerOf(row: CsvRow, schema: z.ZodObject): Header {
  if (row.cells === null) return { ok: false, reason: 'has a broken quote in its first line' }
  return readHeader(row.cells, Object.keys(schema.shape), neededColumns(schema))
}

function faultOfBytes(row: CsvRow, badLines: ReadonlyMap<number, string>): Fault | null {
  if (badLines.size === 0) return null
  for (let line = row.line; line < row.line + row.lines; line++) {
    const reason = badLines.get(line)
    if (reason !== undefined) return { column: '', reason: `the row ${reason}` }
  }
  return null
}

function takeRow<Schema extends z.ZodObject>(
  row: CsvRow,
  read: ReturnType<typeof rowReader<Schema>>,
  taker: Taker<Schema>,
): Fault | null {
  if (row.cells === null)
    return { column: '', reason: 'a quote is not closed, or text follows it in its cell' }
  const answer = read(row.cells, row.line)
  if (answer === 'blank') return null
  return answer.ok ? taker.take(answer.row) : answer.fault
}

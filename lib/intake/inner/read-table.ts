import type { z } from 'zod'
import type { Fault, Notice, RejectedRow } from '../findings'
import type { CsvRow } from './csv'
import { findHeader, type Heading } from './find-header'
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
 *
 * @returns what heads the rows; null where they could not be read.
 */
export function readTable<Schema extends z.ZodObject>(table: Table, taker: Taker<Schema>): Heading | null {
  const rows = readTableByRows(table, taker)
  for (let step = rows.next(); ; step = rows.next()) if (step.done) return step.value
}

/** The same, stopping after each row: it yields the share of the file that has been read. */
export function* readTableByRows<Schema extends z.ZodObject>(
  { file, bytes }: Table,
  taker: Taker<Schema>,
): Generator<number, Heading | null> {
  if (bytes.length === 0) {
    taker.notice({ file, line: null, message: 'is empty' })
    return null
  }
  const answer = yield* rowByRow({ file, bytes }, taker)
  if (answer.ok) return answer.heading
  const reason = `the file ${answer.reason}; ${NOTHING_TAKEN}`
  taker.reject({ file, line: 1, column: '', reason, row: answer.row.slice(0, LONGEST_SHOWN) })
  return null
}

/** What every file is told that could not be read. */
export const NOTHING_TAKEN = 'nothing of it was taken in'

type Outcome = { ok: true; heading: Heading } | { ok: false; reason: string; row: string }

function* rowByRow<Schema extends z.ZodObject>(
  { file, bytes }: Table,
  taker: Taker<Schema>,
): Generator<number, Outcome> {
  const decoded = decodeText(bytes)
  if (!decoded.ok) return { ...decoded, row: '' }
  const { text, badLines } = decoded
  const found = findHeader(text, taker.schema)
  if (!found.ok) return found
  const { header, heading, rows } = found
  for (const message of [...linesAbove(heading), ...header.near])
    taker.notice({ file, line: heading.line, message })
  const read = rowReader(taker.schema, header.columns)
  for (const row of rows) {
    const fault = faultOfBytes(row, badLines) ?? takeRow(row, read, taker)
    if (fault !== null) {
      const written = text.slice(row.start, Math.min(row.end, row.start + LONGEST_SHOWN))
      taker.reject({ file, line: row.line, ...fault, row: written })
    }
    yield row.end / text.length
  }
  return { ok: true, heading }
}

const linesAbove = ({ line }: Heading): string[] =>
  line === 1
    ? []
    : [`what stands above the columns was left out: ${line === 2 ? '1 line' : `${line - 1} lines`}`]

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

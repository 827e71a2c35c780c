import type { z } from 'zod'
import { neededColumns } from '../tables'
import { type CsvRow, csvRows, separatorOf } from './csv'
import { type Header, readHeader } from './header'
import { decodeText } from './text-file'

/** What heads a table: its columns as they are written, what stands between them, and on which line. */
export interface Heading {
  written: string[]
  separator: string
  line: number
}

/** Where the rows of a text begin and what their cells are, or why no line of it heads the table. */
export type FoundHeader =
  | { ok: true; heading: Heading; header: Header & { ok: true }; rows: Generator<CsvRow, void, undefined> }
  | { ok: false; reason: string; row: string }

/** Programs write a title, a date, a blank line above their columns; more than this is no table of ours. */
const MOST_LINES_ABOVE = 20

/** Finds the line with the columns: the first, or one below a few lines of titles. */
export function findHeader(text: string, schema: z.ZodObject): FoundHeader {
  let refusal: FoundHeader | null = null
  for (const { start, line } of firstLines(text)) {
    const separator = separatorOf(text.slice(start).split('\n', 1)[0] ?? '')
    const rows = csvRows(text, separator, { start, line })
    const { value: first } = rows.next()
    if (!first) break
    const header = understand(first, schema)
    if (header.ok) {
      const heading = { written: (first.cells ?? []).map((cell) => cell.trim()), separator, line }
      return { ok: true, heading, header, rows }
    }
    refusal ??= { ok: false, reason: header.reason, row: text.slice(first.start, first.end) }
  }
  return refusal ?? { ok: false, reason: 'needs a first line with its columns', row: '' }
}

/** More than any header takes, with the titles above it. */
const HEAD_BYTES = 65_536

/** Which of our columns a file has, from its beginning; none where they cannot be read. */
export function columnsOfFile(bytes: Uint8Array, schema: z.ZodObject): string[] {
  const decoded = decodeText(bytes.subarray(0, HEAD_BYTES))
  const found = decoded.ok ? findHeader(decoded.text, schema) : null
  if (!found?.ok) return []
  return found.header.columns.flatMap((column) => (column.kind === 'known' ? [column.name] : []))
}

function* firstLines(text: string): Generator<{ start: number; line: number }> {
  let start = 0
  for (let line = 1; line <= MOST_LINES_ABOVE + 1 && start < text.length; line++) {
    yield { start, line }
    const feed = text.indexOf('\n', start)
    if (feed < 0) return
    start = feed + 1
  }
}

function understand(row: CsvRow, schema: z.ZodObject): Header {
  if (row.cells === null) return { ok: false, reason: 'has a broken quote in its first line' }
  return readHeader(row.cells, Object.keys(schema.shape), neededColumns(schema))
}

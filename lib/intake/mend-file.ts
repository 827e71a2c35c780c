import { csvLine } from './csv-line'
import { csvRows } from './inner/csv'
import { findHeader } from './inner/find-header'
import { decodeText } from './inner/text-file'
import { ROWS, type RowKind } from './tables'

/** New cells of rows, by the line on which each begins, in the order of the file's columns. */
export type Edits = ReadonlyMap<number, readonly string[]>

/**
 * A file of rows with some of them written anew.
 *
 * @param keep whether the other rows stay, or only the mended ones go on under the same columns
 * @returns the file as UTF-8 with commas; null where it cannot be read at all, or lines that are no text would stay
 */
export function mendFile(
  { bytes, kind }: { bytes: Uint8Array; kind: RowKind },
  edits: Edits,
  keep: 'all' | 'mended',
): Uint8Array | null {
  const decoded = decodeText(bytes)
  if (!decoded.ok) return null
  const { text, badLines } = decoded
  if (keep === 'all' && [...badLines.keys()].some((line) => !edits.has(line))) return null
  const found = findHeader(text, ROWS[kind])
  if (!found.ok) return null
  const { heading, rows } = found
  const above = keep === 'all' ? csvRows(text, heading.separator) : []
  const lines: string[] = []
  for (const row of above) {
    if (row.line >= heading.line) break
    lines.push(csvLine(row.cells ?? [])) // so that every row stays on its line
  }
  lines.push(csvLine(heading.written))
  for (const row of rows) {
    const mended = edits.get(row.line)
    if (mended) lines.push(csvLine(mended))
    else if (keep === 'all')
      lines.push(row.cells ? csvLine(row.cells) : `${text.slice(row.start, row.end)}\r\n`)
  }
  return Buffer.from(lines.join(''))
}

/** A text of another encoding as UTF-8. */
export function asUtf8(bytes: Uint8Array, encoding: string): Uint8Array {
  return Buffer.from(new TextDecoder(encoding).decode(bytes))
}

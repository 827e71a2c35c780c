import { csvRows } from './csv'
import type { Heading } from './find-header'

/** The cells of a row as it was written, under the columns of its file; the row whole where it cannot be split. */
export function cellsOf(row: string, { written, separator }: Heading): string[] {
  const { value } = csvRows(row, separator).next()
  const cells = value?.cells ?? [row]
  return written.map((_, i) => cells[i]?.trim() ?? '').concat(cells.slice(written.length))
}

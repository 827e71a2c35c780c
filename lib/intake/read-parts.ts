import { faultOfPart, type PartRow, partColumns } from '@/lib/records/part-stock'
import type { Fault, Notice, RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import { unknownParts } from './inner/notices'
import { readTable } from './inner/read-table'
import type { ReadRow } from './inner/row-reader'

/** What came of one file of parts. */
export interface PartsRead {
  name: string
  kind: 'parts'
  /** Each part once, in file order. */
  parts: PartRow[]
  rejected: RejectedRow[]
  notices: Notice[]
  /** What heads its rows; null where they could not be read. */
  heading: Heading | null
}

/**
 * Reads a file of parts. Every row may go in, or is rejected with its line, column and reason; of two rows of one part
 * the first goes in. A part that no weak point uses is kept, and told.
 *
 * @param known the parts that weak points of the library use
 */
export function readParts(
  { name, bytes }: { name: string; bytes: Uint8Array },
  known: ReadonlySet<string>,
): PartsRead {
  const found = new Map<string, ReadRow<typeof partColumns>>()
  const read: PartsRead = { name, kind: 'parts', parts: [], rejected: [], notices: [], heading: null }
  const take = (row: ReadRow<typeof partColumns>): Fault | null => {
    const fault = faultOfPart(row) ?? secondRow(found.get(row.part))
    if (fault === null) found.set(row.part, row)
    return fault
  }
  read.heading = readTable(
    { file: name, bytes },
    {
      schema: partColumns,
      take,
      reject: (row) => read.rejected.push(row),
      notice: (notice) => read.notices.push(notice),
    },
  )
  read.parts = [...found.values()].map(({ line: _, ...row }) => row)
  read.notices.push(...unknownParts(name, [...found.values()], known))
  return read
}

function secondRow(earlier: { part: string; line: number } | undefined): Fault | null {
  if (!earlier) return null
  const { part, line } = earlier
  return { column: 'part', reason: `a second row for "${part}"; the one on line ${line} went in` }
}

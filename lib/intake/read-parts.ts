import { faultOfPart, type PartRow, partColumns } from '@/lib/records/part-stock'
import type { Fault, Notice, RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import { unknownParts } from './inner/notices'
import { readObjects } from './inner/read-objects'
import { readTable, type Taker } from './inner/read-table'
import type { ReadRow } from './inner/row-reader'

/** Rows of parts under a name: the bytes of a file, or JSON objects with its columns (the first is line 1). */
export type GivenParts = { name: string } & ({ bytes: Uint8Array } | { objects: readonly unknown[] })

/** What came of one file of parts. */
export interface PartsRead {
  name: string
  kind: 'parts'
  /** Each part once, in file order. */
  parts: PartRow[]
  rejected: RejectedRow[]
  notices: Notice[]
  /** What heads its rows; null where they could not be read, and for objects. */
  heading: Heading | null
}

/**
 * Reads a file of parts. Every row may go in, or is rejected with its line, column and reason; of two rows of one part
 * the first goes in. A part that no weak point uses is kept, and told.
 *
 * @param known the parts that weak points of the library use
 */
export function readParts(given: GivenParts, known: ReadonlySet<string>): PartsRead {
  const { name } = given
  const found = new Map<string, ReadRow<typeof partColumns>>()
  const read: PartsRead = { name, kind: 'parts', parts: [], rejected: [], notices: [], heading: null }
  const take = (row: ReadRow<typeof partColumns>): Fault | null => {
    const fault = faultOfPart(row) ?? secondRow(found.get(row.part))
    if (fault === null) found.set(row.part, row)
    return fault
  }
  const taker: Taker<typeof partColumns> = {
    schema: partColumns,
    take,
    reject: (row) => read.rejected.push(row),
    notice: (notice) => read.notices.push(notice),
  }
  if ('bytes' in given) read.heading = readTable({ file: name, bytes: given.bytes }, taker)
  else readObjects({ file: name, objects: given.objects }, taker)
  read.parts = [...found.values()].map(({ line: _, ...row }) => row)
  read.notices.push(...unknownParts(name, [...found.values()], known))
  return read
}

function secondRow(earlier: { part: string; line: number } | undefined): Fault | null {
  if (!earlier) return null
  const { part, line } = earlier
  return { column: 'part', reason: `a second row for "${part}"; the one on line ${line} went in` }
}

import { csvLine } from './csv-line'
import { TABLE_KINDS, type TableKind } from './tables'

/** A version of the library that another has taken the place of. */
export type EarlierLibrary = { content: string; enteredAt: Date; enteredBy: string | null }

/** How an organisation came to what it holds. */
export type History = {
  /** The oldest first, without the one in force. */
  libraries: EarlierLibrary[]
  /** Who entered each row and when, in the order of the rows. */
  provenance: Record<TableKind, { enteredAt: Date; enteredBy: string | null }[]>
  /** Notices that a vehicle must not be driven, and files that were brought in: each a row under the names of its columns. */
  stopNotices: object[]
  intakes: object[]
}

/** The file of an earlier version of the library. */
export const earlierFile = (place: number) => `library-${place + 1}.json`

/** What came before, as files beside those of the data folder; but for the libraries, for people to read. */
export function historyFiles({
  libraries,
  provenance,
  stopNotices,
  intakes,
}: History): Map<string, Uint8Array> {
  const entered = TABLE_KINDS.flatMap((kind) =>
    provenance[kind].map(({ enteredAt, enteredBy }, i) => ({
      file: `${kind}.csv`,
      row: i + 1,
      entered_at: enteredAt,
      entered_by: enteredBy,
    })),
  )
  const files = libraries.map(({ content }, i) => [earlierFile(i), Buffer.from(content)] as const)
  return new Map<string, Uint8Array>([
    ...files,
    ['entered.csv', csvOf(COLUMNS.entered, entered)],
    ['stop-notices.csv', csvOf(COLUMNS.stopNotices, stopNotices)],
    ['intakes.csv', csvOf(COLUMNS.intakes, intakes)],
  ])
}

const COLUMNS = {
  entered: ['file', 'row', 'entered_at', 'entered_by'],
  stopNotices: [
    ...['unit', 'weak_point', 'position', 'raised_at', 'reason', 'told_at', 'told_whom', 'told_by'],
    ...['parked_at', 'parked_by', 'released_at', 'released_by', 'released_because'],
  ],
  intakes: ['made_at', 'made_by', 'state', 'done_at', 'taken_back_at', 'files'],
}

function csvOf(columns: string[], rows: object[]): Uint8Array {
  const lines = rows.map((row) => columns.map((column) => cellOf(Reflect.get(row, column))))
  return Buffer.from([columns, ...lines].map(csvLine).join(''))
}

const cellOf = (value: unknown): string | number | null => {
  if (value === null || value === undefined) return null
  if (value instanceof Date) return value.toISOString()
  return typeof value === 'number' ? value : String(value)
}

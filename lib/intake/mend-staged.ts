import type { RejectedRow } from './findings'
import {
  groupRejected,
  type RejectedOfFile,
  rowsOfGroup,
  rowsWaitingFor,
  rowsWithoutVehicle,
} from './group-rejected'
import { findHeader, type Heading } from './inner/find-header'
import { decodeText } from './inner/text-file'
import { asUtf8, type Edits, mendFile } from './mend-file'
import { editsBy, withCells } from './mend-rows'
import type { StagedFile } from './read-staged'
import { ROW_KINDS, ROWS, type RowKind } from './tables'

/** A file as it is after mending. */
export type MendedFile = { name: string; kind: RowKind; bytes: Uint8Array }

type TableFile = StagedFile & { kind: RowKind }

const isTable = (file: StagedFile): file is TableFile => (ROW_KINDS as unknown[]).includes(file.kind)

/** Rejected rows by the file that they stand in, with what heads it. */
export function rejectedOf(files: readonly StagedFile[], rejected: readonly RejectedRow[]): RejectedOfFile[] {
  return files.filter(isTable).map(({ name, kind, bytes }) => ({
    name,
    kind,
    heading: headingOf(bytes, kind),
    rejected: rejected.filter((row) => row.file === name),
  }))
}

function headingOf(bytes: Uint8Array, kind: RowKind): Heading | null {
  const decoded = decodeText(bytes)
  if (!decoded.ok) return null
  const found = findHeader(decoded.text, ROWS[kind])
  return found.ok ? found.heading : null
}

/**
 * Mends all rows of a group by the one change that it proposes.
 *
 * @param keep whether the other rows of a file stay in it
 * @returns the files that are other than before
 */
export function mendGroup(
  files: readonly StagedFile[],
  rejected: readonly RejectedRow[],
  key: string,
  keep: 'all' | 'mended',
): MendedFile[] {
  const byFile = rejectedOf(files, rejected)
  const mend = groupRejected(byFile).find((group) => group.key === key)?.mend
  if (!mend) return []
  const rows = rowsOfGroup(byFile, key)
  return files.filter(isTable).flatMap((file): MendedFile[] => {
    const own = rows.filter((row) => row.file === file.name)
    const heading = byFile.find(({ name }) => name === file.name)?.heading
    if (own.length === 0 || !heading) return []
    const { name, kind } = file
    if (mend.how === 'encoding') return [{ name, kind, bytes: asUtf8(file.bytes, mend.encoding) }]
    return withEdits(file, editsBy(own, heading, mend), keep)
  })
}

/** Mends rows by what somebody wrote into their cells: `edits` by the name of the file. */
export function mendRows(
  files: readonly StagedFile[],
  edits: ReadonlyMap<string, Edits>,
  keep: 'all' | 'mended',
): MendedFile[] {
  return files.filter(isTable).flatMap((file) => {
    const own = edits.get(file.name)
    return own ? withEdits(file, own, keep) : []
  })
}

/** Rows that go in again with vehicles which were mended, and files of them alone, as they were written. */
export interface GoAgain<Row extends RejectedRow> {
  rows: Row[]
  files: MendedFile[]
}

/** Rows of other files that wait for vehicles whose own rows these are. */
export function waitingFor<Row extends RejectedRow>(
  files: readonly StagedFile[],
  rejected: readonly Row[],
  vehicles: readonly Row[],
): GoAgain<Row> {
  const byFile = rejectedOf(files, rejected)
  return asWritten(files, byFile, rowsWaitingFor(byFile, vehicles) as Row[])
}

/** Rows of a group, and those that wait for it, whose vehicles may be there by now. */
export function withoutVehicle<Row extends RejectedRow>(
  files: readonly StagedFile[],
  rejected: readonly Row[],
  key: string,
): GoAgain<Row> {
  const byFile = rejectedOf(files, rejected)
  return asWritten(files, byFile, rowsWithoutVehicle(byFile, key) as Row[])
}

function asWritten<Row extends RejectedRow>(
  files: readonly StagedFile[],
  byFile: readonly RejectedOfFile[],
  rows: Row[],
): GoAgain<Row> {
  const edits = byFile.flatMap(({ name, heading }) => {
    const own = rows.filter(({ file }) => file === name)
    if (heading === null || own.length === 0) return []
    return [[name, new Map(withCells(own, heading).map(({ line, cells }) => [line, cells]))] as const]
  })
  return { rows, files: mendRows(files, new Map(edits), 'mended') }
}

function withEdits(file: TableFile, edits: Edits, keep: 'all' | 'mended'): MendedFile[] {
  const bytes = mendFile(file, edits, keep)
  return bytes ? [{ name: file.name, kind: file.kind, bytes }] : []
}

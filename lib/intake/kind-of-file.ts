import { findHeader } from './inner/find-header'
import { decodeText, isWorkbookFile } from './inner/text-file'
import { ROW_KINDS, ROWS, type RowKind } from './tables'

/** What a file that is brought in may hold. */
export type FileKind = RowKind | 'library' | 'settings'

export const FILE_KINDS: readonly FileKind[] = [...ROW_KINDS, 'library', 'settings']

/**
 * Whether a file is read as a workbook, sheet by sheet: by what it is, and by its name where it is none, so that it is
 * said why. A text file may be opened as one later, where its columns say nothing.
 */
export const isWorkbook = (name: string, bytes: Uint8Array): boolean =>
  /\.(xlsx|xlsm|xlsb|xls|ods)$/i.test(name) || isWorkbookFile(bytes)

/** Enough for titles and columns; a file need not be decoded whole to see what it is. */
const BEGINNING = 65_536

/**
 * What a file holds: by its name where its columns do not speak against it, else by its columns.
 *
 * @returns null where neither says: somebody must be asked.
 */
export function kindOfFile(name: string, bytes: Uint8Array): FileKind | null {
  const named = kindNamed(name)
  if (/\.json$/i.test(name)) return kindOfJson(bytes) ?? named
  const fitting = kindsByColumns(bytes)
  if (named !== null && (fitting.length === 0 || fitting.includes(named as RowKind))) return named
  return fitting[0] ?? null
}

function kindNamed(name: string): FileKind | null {
  const words = name.toLowerCase()
  return FILE_KINDS.find((kind) => words.includes(kind)) ?? null
}

const LIBRARY_FORMAT = '"gudgeon-library/'

function kindOfJson(bytes: Uint8Array): FileKind | null {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).includes(LIBRARY_FORMAT)
    ? 'library'
    : null
}

/** Parts are spoken of in many tables; only one that counts them, or says how long they take, is a file of them. */
const TELLS_OF_PARTS = ['on_hand', 'on_order', 'lead_days']

/** The kinds whose columns stand in a file, the one with most of its own first. */
function kindsByColumns(bytes: Uint8Array): RowKind[] {
  const decoded = decodeText(bytes.subarray(0, BEGINNING))
  if (!decoded.ok) return []
  const fits = ROW_KINDS.flatMap((kind) => {
    const found = findHeader(decoded.text, ROWS[kind])
    if (!found.ok) return []
    const ours = found.header.columns.filter((column) => column.kind === 'known')
    if (kind === 'parts' && !ours.some(({ name }) => TELLS_OF_PARTS.includes(name))) return []
    return [{ kind, columns: ours.length }]
  })
  return fits.sort((a, b) => b.columns - a.columns).map(({ kind }) => kind)
}

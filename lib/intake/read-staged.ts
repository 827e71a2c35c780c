import { type Library, parseLibrary } from '@/lib/records/library'
import { partsUsed } from '@/lib/records/parts-used'
import { decodeText } from './inner/text-file'
import type { FileKind } from './kind-of-file'
import { type PartsRead, readParts } from './read-parts'
import { openTables } from './read-tables'
import type { GivenTable, Ground, LargeTable, TableRead } from './table-read'
import { TABLE_KINDS, type TableKind } from './tables'

/** A file that somebody brings in; its name is its own among those that come with it. */
export interface StagedFile {
  name: string
  /** Null where nobody could say. */
  kind: FileKind | null
  bytes: Uint8Array
}

/** What is there already when files are brought in. */
export type StagedGround = Omit<Ground, 'library'> & {
  /** The library in force, if there is one. */
  library: Library | null
  /** The organisation's currency; prices in another are not converted. */
  currency: string | null
}

/** What came of files that are brought in together: what they hold, and which say nothing that can be used. */
export interface StagedRead {
  library: { name: string; content: string; read: Library } | null
  tables: TableRead[]
  /** Files that are read while their rows go in. */
  large: LargeTable[]
  /** Files of parts. */
  parts: PartsRead[]
  /** Files of which nothing goes in, with why. */
  refused: { name: string; reason: string }[]
}

/** Without a library every vehicle is taken in, and not assessed. */
const NO_LIBRARY = { families: [] }

/** Reads files that are brought in together: the library first, then rows against it and what stands already. */
export function readStaged(files: readonly StagedFile[], ground: StagedGround): StagedRead {
  const refused: StagedRead['refused'] = []
  let library: StagedRead['library'] = null
  for (const file of files.filter(({ kind }) => kind === 'library')) {
    const found = readLibrary(file, ground.currency)
    if (typeof found === 'string') refused.push({ name: file.name, reason: found })
    else library = { name: file.name, ...found }
  }
  for (const { name, kind, bytes } of files) {
    if (kind === 'settings') refused.push({ name, reason: SETTINGS })
    if (kind === null) refused.push({ name, reason: whyUnknown(bytes) })
  }
  const tables = files.flatMap(({ name, kind, bytes }): GivenTable[] =>
    isTable(kind) ? [{ name, kind, bytes }] : [],
  )
  const standing = [...(ground.standing ?? [])]
  const readable = standing.length > 0 ? tables : withVehicles(tables, refused)
  const read = library?.read ?? ground.library ?? NO_LIBRARY
  const used = new Set(partsUsed(read).keys())
  const parts = files.filter(({ kind }) => kind === 'parts').map((file) => readParts(file, used))
  return { library, ...openTables(readable, { ...ground, standing, library: read }), parts, refused }
}

const SETTINGS = 'left alone: prices, limits and currency are set on the settings page'
/** Why a file goes nowhere until somebody says what it holds. */
export const KIND_UNKNOWN = 'its name and its columns do not say what it holds'
const NO_VEHICLES = 'there are no vehicles yet to which its rows could belong: bring in vehicles.csv with it'

/** A file may be of no known kind because there is nothing in it to be known. */
function whyUnknown(bytes: Uint8Array): string {
  if (bytes.length === 0) return 'it is empty'
  const decoded = decodeText(bytes)
  return decoded.ok ? KIND_UNKNOWN : `it ${decoded.reason}`
}

const isTable = (kind: FileKind | null): kind is TableKind =>
  (TABLE_KINDS as (FileKind | null)[]).includes(kind)

/** Without any vehicle every row would be refused, one by one, for the same reason. */
function withVehicles(tables: GivenTable[], refused: StagedRead['refused']): GivenTable[] {
  if (tables.some(({ kind }) => kind === 'vehicles')) return tables
  refused.push(...tables.map(({ name }) => ({ name, reason: NO_VEHICLES })))
  return []
}

const MOST_ERRORS_TOLD = 3

/** The library of a file, or why it cannot be put in force. */
function readLibrary(
  { bytes }: StagedFile,
  currency: string | null,
): { content: string; read: Library } | string {
  const content = Buffer.from(bytes)
    .toString('utf8')
    .replace(/^\uFEFF/, '')
  const parsed = parseLibrary(content)
  if (!parsed.ok) {
    const told = parsed.errors.slice(0, MOST_ERRORS_TOLD).map(({ place, message }) => `${place}: ${message}`)
    const more = parsed.errors.length - told.length
    return `${told.join('; ')}${more > 0 ? `; and ${more} more` : ''}`
  }
  const { library } = parsed
  if (currency !== null && library.currency !== null && currency !== library.currency)
    return `its prices are in ${library.currency} and the organisation's in ${currency}; prices are not converted`
  return { content, read: library }
}

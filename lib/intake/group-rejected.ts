import { type Cause, causeOf, nearestIn, valueIn } from './causes'
import type { RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import { cellsOf } from './inner/rejected-cells'
import { dateMend, type Mend, numberMend } from './mends'
import type { TableKind } from './tables'

/** A file's rejected rows, and what its cells are called. */
export interface RejectedOfFile {
  name: string
  kind: TableKind
  heading: Heading | null
  rejected: readonly RejectedRow[]
}

/** Rows that one act mends. */
export interface RejectedGroup {
  /** Names the group among those of the same files. */
  key: string
  cause: Cause
  /** The files it stands in, with how many of its rows each holds. */
  files: [name: string, rows: number][]
  column: string
  /** The name that is not known, where the group is about one. */
  value: string | null
  /** How the first of its rows was refused. */
  reason: string
  rows: number
  /** Rows of other files that were refused for this one cause and go in once it is mended. */
  waiting: number
  /** One change that mends all of its rows; null where a person must look. */
  mend: Mend | null
}

/** Causes that are about a name: each name is a group of its own. */
const BY_NAME: readonly Cause[] = ['unit', 'word', 'code']

/** More unknown vehicles than this are not slips, each to be mended by itself. */
const MOST_UNITS = 20

/**
 * Groups rejected rows by what mends them, the one that most rows wait for first. Rows of a vehicle that was itself
 * refused, or whose file was, are not groups of their own: they wait for that row or file.
 */
export function groupRejected(files: readonly RejectedOfFile[]): RejectedGroup[] {
  const groups = new Map<string, Member[]>()
  const waiting = new Map<string, number>()
  const root = rootOfUnits(files)
  const units = unknownUnits(files)
  for (const file of files) {
    for (const row of file.rejected) {
      const cause = causeOf(row.reason)
      const unit = cause === 'unit' ? valueIn(row.reason) : null
      const awaited = unit === null ? null : root(unit)
      if (awaited !== null) {
        waiting.set(awaited, (waiting.get(awaited) ?? 0) + 1)
        continue
      }
      const key = units.size > MOST_UNITS && unit !== null ? 'unit' : keyOf(file.name, row, cause)
      const members = groups.get(key)
      if (members) members.push({ file, row })
      else groups.set(key, [{ file, row }])
    }
  }
  return [...groups]
    .map(([key, members]) => groupOf(key, members, waiting.get(key) ?? 0))
    .sort((a, b) => b.rows + b.waiting - (a.rows + a.waiting))
}

/** The rows of one group, by its key. */
export function rowsOfGroup(files: readonly RejectedOfFile[], key: string): RejectedRow[] {
  const many = unknownUnits(files).size > MOST_UNITS
  const isIn = (file: string, row: RejectedRow) => {
    const cause = causeOf(row.reason)
    return (many && cause === 'unit' ? 'unit' : keyOf(file, row, cause)) === key
  }
  return files.flatMap(({ name, rejected }) => rejected.filter((row) => isIn(name, row)))
}

interface Member {
  file: RejectedOfFile
  row: RejectedRow
}

/** An unknown vehicle is one cause in every file; everything else is a matter of its file and column. */
function keyOf(file: string, { column, reason }: RejectedRow, cause: Cause): string {
  const name = BY_NAME.includes(cause) ? (valueIn(reason) ?? reason) : ''
  return cause === 'unit' ? `unit|${name}` : [cause, file, column, name].join('|')
}

function groupOf(key: string, members: readonly Member[], waiting: number): RejectedGroup {
  const [{ row }] = members as [Member]
  const cause = causeOf(row.reason)
  const files = new Map<string, number>()
  for (const { file } of members) files.set(file.name, (files.get(file.name) ?? 0) + 1)
  return {
    key,
    cause,
    files: [...files],
    column: row.column,
    value: BY_NAME.includes(cause) && key !== 'unit' ? valueIn(row.reason) : null,
    reason: row.reason,
    rows: members.length,
    waiting,
    mend: mendFor(cause, members),
  }
}

function mendFor(cause: Cause, members: readonly Member[]): Mend | null {
  const [{ row }] = members as [Member]
  const [from, to] = [valueIn(row.reason), nearestIn(row.reason)]
  if (BY_NAME.includes(cause)) return from !== null && to !== null ? { how: 'replace', from, to } : null
  if (cause === 'bytes' && !row.reason.includes('NUL')) return { how: 'encoding', encoding: 'windows-1252' }
  if (cause === 'date') return dateMend(members.map(cellAtFault))
  return cause === 'number' ? numberMend(members.map(cellAtFault)) : null
}

function cellAtFault({ file: { heading }, row }: Member): string {
  return heading === null ? '' : (cellsOf(row.row, heading)[heading.written.indexOf(row.column)] ?? '')
}

/** The group that an unknown vehicle waits for: its own row in a file of vehicles, or that whole file. */
function rootOfUnits(files: readonly RejectedOfFile[]): (unit: string) => string | null {
  const ofUnit = new Map<string, string>()
  let ofFile: string | null = null
  for (const { name, kind, heading, rejected } of files) {
    if (kind !== 'vehicles') continue
    for (const row of rejected) {
      const key = keyOf(name, row, causeOf(row.reason))
      if (causeOf(row.reason) === 'file') ofFile = key
      const unit = heading === null ? null : unitOf(row.row, heading)
      if (unit !== null) ofUnit.set(unit, key)
    }
  }
  return (unit) => ofUnit.get(unit) ?? ofFile
}

function unitOf(row: string, heading: Heading): string | null {
  const place = heading.written.findIndex((column) => column.toLowerCase() === 'unit')
  return cellsOf(row, heading)[place] ?? null
}

function unknownUnits(files: readonly RejectedOfFile[]): Set<string | null> {
  const reasons = files.flatMap(({ rejected }) => rejected.map(({ reason }) => reason))
  return new Set(reasons.filter((reason) => causeOf(reason) === 'unit').map(valueIn))
}

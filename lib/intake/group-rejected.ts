import { type Cause, causeOf, nearestIn, valueIn } from './causes'
import type { RejectedRow } from './findings'
import type { Heading } from './inner/find-header'
import { cellsOf } from './inner/rejected-cells'
import { dateMend, type Mend, numberMend } from './mends'
import type { RowKind } from './tables'

/** A file's rejected rows, and what its cells are called. */
export interface RejectedOfFile {
  name: string
  kind: RowKind
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
  /** How many vehicles those rows name, and in which files they stand; left out where it was noted before it was told. */
  awaited?: number
  waitingIn?: [name: string, rows: number][]
  /** One change that mends all of its rows; null where a person must look. */
  mend: Mend | null
}

/** Causes that are about a name: each name is a group of its own. */
const BY_NAME: readonly Cause[] = ['unit', 'word', 'code']

/** More names than this are not slips, each to be mended by itself: they are one group. */
const MOST_NAMES = 20

/**
 * Groups rejected rows by what mends them: first those for which most rows of other files wait, then those with most
 * rows. Rows of a vehicle that was itself refused, or whose file was, are no groups of their own: they wait for it.
 */
export function groupRejected(files: readonly RejectedOfFile[]): RejectedGroup[] {
  const groups = new Map<string, { members: Member[]; waiting: Member[] }>()
  for (const { key, waits, file, row } of placed(files)) {
    const group = groups.get(key) ?? { members: [], waiting: [] }
    group[waits ? 'waiting' : 'members'].push({ file, row })
    groups.set(key, group)
  }
  return [...groups]
    .map(([key, { members, waiting }]) => groupOf(key, members, waiting))
    .sort((a, b) => b.waiting - a.waiting || b.rows - a.rows)
}

/** The rows of one group, by its key. */
export function rowsOfGroup(files: readonly RejectedOfFile[], key: string): RejectedRow[] {
  return placed(files).flatMap((place) => (!place.waits && isOf(place, key) ? [place.row] : []))
}

/** The rows that can go in once other vehicles are there: those that wait for a group, and its own of unknown ones. */
export function rowsWithoutVehicle(files: readonly RejectedOfFile[], key: string): RejectedRow[] {
  return placed(files).flatMap((place) =>
    isOf(place, key) && (place.waits || causeOf(place.row.reason) === 'unit') ? [place.row] : [],
  )
}

/** The rows of other files that wait for vehicles whose own rows these are. */
export function rowsWaitingFor(
  files: readonly RejectedOfFile[],
  vehicles: readonly RejectedRow[],
): RejectedRow[] {
  const isMeant = new Set(vehicles)
  const units = new Set(
    ofVehicles(files).flatMap(({ file, row }) => (isMeant.has(row) ? (unitOf(row, file) ?? []) : [])),
  )
  return files.flatMap(({ rejected }) =>
    rejected.filter(({ reason }) => causeOf(reason) === 'unit' && units.has(valueIn(reason) ?? '')),
  )
}

interface Member {
  file: RejectedOfFile
  row: RejectedRow
}

/** A rejected row with the group that it belongs to, or waits for. */
type Placed = Member & { key: string; crowd: string; waits: boolean }

/** Of very many names, some may have been mended since: the rest are still of the one group that they were. */
const isOf = (place: Placed, key: string): boolean => place.key === key || place.crowd === key

function placed(files: readonly RejectedOfFile[]): Placed[] {
  const all = files.flatMap((file) => file.rejected.map((row): Member => ({ file, row })))
  const root = rootOfUnits(files)
  const awaited = all.map(({ row }) => (causeOf(row.reason) === 'unit' ? root(valueIn(row.reason)) : null))
  const crowded = crowdsOfNames(all.filter((_, place) => awaited[place] === null))
  return all.map((member, place) => {
    const rootOfRow = awaited[place] ?? null
    const { crowd, name } = keysOf(rootOfRow ?? member)
    const key = crowded.has(crowd) ? crowd : `${crowd}|${name}`
    return { ...member, key, crowd, waits: rootOfRow !== null }
  })
}

/** An unknown vehicle is one cause in every file; everything else is a matter of its file and column. */
function keysOf({ file, row: { column, reason } }: Member): { crowd: string; name: string } {
  const cause = causeOf(reason)
  const name = BY_NAME.includes(cause) ? (valueIn(reason) ?? reason) : ''
  return { crowd: cause === 'unit' ? cause : [cause, file.name, column].join('|'), name }
}

/** Where so many names are not known that each is no group of its own. */
function crowdsOfNames(members: readonly Member[]): Set<string> {
  const names = new Map<string, Set<string>>()
  for (const member of members) {
    const { crowd, name } = keysOf(member)
    const found = names.get(crowd)
    if (found) found.add(name)
    else names.set(crowd, new Set([name]))
  }
  return new Set([...names].flatMap(([crowd, { size }]) => (size > MOST_NAMES ? [crowd] : [])))
}

function groupOf(key: string, members: readonly Member[], waiting: readonly Member[]): RejectedGroup {
  const [first] = members as [Member]
  const { row } = first
  const cause = causeOf(row.reason)
  const isOfOne = BY_NAME.includes(cause) && key !== keysOf(first).crowd
  return {
    key,
    cause,
    files: countsByFile(members),
    column: row.column,
    value: isOfOne ? valueIn(row.reason) : null,
    reason: row.reason,
    rows: members.length,
    waiting: waiting.length,
    awaited: new Set(waiting.map((member) => valueIn(member.row.reason))).size,
    waitingIn: countsByFile(waiting),
    mend: mendFor(cause, members),
  }
}

function countsByFile(members: readonly Member[]): [name: string, rows: number][] {
  const files = new Map<string, number>()
  for (const { file } of members) files.set(file.name, (files.get(file.name) ?? 0) + 1)
  return [...files]
}

function mendFor(cause: Cause, members: readonly Member[]): Mend | null {
  const [{ row }] = members as [Member]
  if (BY_NAME.includes(cause)) return nameMend(members)
  if (cause === 'bytes' && !row.reason.includes('NUL')) return { how: 'encoding', encoding: 'windows-1252' }
  if (cause === 'date') return dateMend(members.map(cellAtFault))
  return cause === 'number' ? numberMend(members.map(cellAtFault)) : null
}

/** Where all rows name one thing, and it is near to one that is known. */
function nameMend(members: readonly Member[]): Mend | null {
  const [{ row }] = members as [Member]
  const [from, to] = [valueIn(row.reason), nearestIn(row.reason)]
  const isOne = members.every((member) => valueIn(member.row.reason) === from)
  return isOne && from !== null && to !== null ? { how: 'replace', from, to } : null
}

function cellAtFault({ file: { heading }, row }: Member): string {
  return heading === null ? '' : (cellsOf(row.row, heading)[heading.written.indexOf(row.column)] ?? '')
}

const ofVehicles = (files: readonly RejectedOfFile[]): Member[] =>
  files.flatMap((file) =>
    file.kind === 'vehicles' ? file.rejected.map((row): Member => ({ file, row })) : [],
  )

/** What an unknown vehicle waits for: its own row in a file of vehicles, or that whole file. */
function rootOfUnits(files: readonly RejectedOfFile[]): (unit: string | null) => Member | null {
  const ofUnit = new Map<string, Member>()
  let ofFile: Member | null = null
  for (const member of ofVehicles(files)) {
    if (causeOf(member.row.reason) === 'file') ofFile = member
    const unit = unitOf(member.row, member.file)
    if (unit !== null && !ofUnit.has(unit)) ofUnit.set(unit, member)
  }
  return (unit) => ofUnit.get(unit ?? '') ?? ofFile
}

function unitOf({ row }: RejectedRow, { heading }: RejectedOfFile): string | null {
  if (heading === null) return null
  const place = heading.written.findIndex((column) => column.toLowerCase() === 'unit')
  return cellsOf(row, heading)[place] || null
}

import { setImmediate as nextTurn } from 'node:timers/promises'
import type { PartsRead } from '@/lib/intake/read-parts'
import { readStaged, type StagedFile, type StagedRead } from '@/lib/intake/read-staged'
import type { LargeTable, TableOutcome, TableRead } from '@/lib/intake/table-read'
import { noRecords, type RecordLists, TABLE_KINDS } from '@/lib/intake/tables'
import type { Library } from '@/lib/records/library'
import type { Database } from '@/lib/store/database'
import type { Entry } from '@/lib/store/entry'
import type { EnteredFile } from '@/lib/store/intake-summary'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readIntakeFiles } from '@/lib/store/read/intake'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readSettings } from '@/lib/store/read/settings'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { rehearse } from '@/lib/store/rehearse'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { type AddedRecords, addInParts, countInParts } from '@/lib/store/write/add-records'
import { changeLibrary } from '@/lib/store/write/change-library'
import { stateParts } from '@/lib/store/write/state-parts'
import { dayIn } from '@/lib/units/dates'

/** The files of an intake as they are read now, against what stands now. */
export type IntakeRead = StagedRead & {
  files: StagedFile[]
  /** The library that rows are read against; null where there is none yet. */
  known: Library | null
  /** The library that is in force before anything goes in, and its version. */
  knownBefore: Library | null
  libraryBefore: number | null
  /** The file that holds the library which is in force already; null where none does. */
  sameLibrary: string | null
}

/** Reads the files of an intake. A library that may not be put in force is refused, and rows are read without it. */
export async function readIntakeNow(
  database: Database,
  organisation: OrganisationId,
  id: string,
  now: Date,
): Promise<IntakeRead> {
  const { files, stands, content, settings, standing } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      files: await readIntakeFiles(scope, id),
      stands: await readKnownLibrary(scope),
      content: (await readLibraryInForce(scope))?.content,
      settings: await readSettings(scope),
      standing: await readStandingVehicles(scope),
    }),
  )
  const ground = {
    library: stands?.library ?? null,
    currency: settings.currency,
    today: dayIn(settings.timeZone, now),
    standing,
  }
  const before = { files, knownBefore: ground.library, libraryBefore: stands?.version ?? null }
  const read = readStaged(files, ground)
  const known = read.library?.read ?? ground.library
  if (read.library === null) return { ...read, ...before, known, sameLibrary: null }
  const { name } = read.library
  if (read.library.content === content) return { ...read, ...before, known, library: null, sameLibrary: name }
  const reason = await refusalOf(database, organisation, read.library.content, now)
  if (reason === null) return { ...read, ...before, known, sameLibrary: null }

  const others = files.filter((file) => file.name !== name)
  const without = readStaged(others, ground)
  const refused = [...without.refused, { name, reason }]
  return { ...without, ...before, refused, known: ground.library, sameLibrary: null }
}

/** Why a library may not be put in force, by trying; null where it may. */
async function refusalOf(
  database: Database,
  organisation: OrganisationId,
  content: string,
  now: Date,
): Promise<string | null> {
  const change = await rehearse(database, organisation, (scope) =>
    changeLibrary(scope, { content, now, by: null }),
  )
  if (change.ok) return null
  if (change.reason === 'invalid')
    return change.errors.map(({ place, message }) => `${place}: ${message}`).join('; ')
  const keys = change.keys.slice(0, 5).map(({ key, records }) => `${key} (${records} records)`)
  return `it drops keys that records name, which must stay, as retired at least: ${keys.join(', ')}`
}

/** The files of records in the order in which they go in. */
export const inTurn = ({ tables, large }: IntakeRead): (TableRead | LargeTable)[] =>
  TABLE_KINDS.flatMap((kind) => [...tables, ...large].filter((table) => table.kind === kind))

/** What is to be told of a file besides how many of its rows went in. */
export type TableTold = Pick<TableRead, 'name' | 'kind'> & TableOutcome

/** What came of a file of records, and which vehicles it touched. */
export type TablePassed = { entered: EnteredFile; touched: ReadonlySet<string>; told: TableTold }

/** How far a file has gone in: rows, and the share of the file that they are. */
type OnRows = (rows: number, share: number) => Promise<void>
const nobody: OnRows = async () => {}

/** Enters the rows of one file in the transaction of `scope`. */
export function enterTable(
  scope: OrganisationScope,
  table: TableRead | LargeTable,
  entry: Entry,
  onRows = nobody,
): Promise<TablePassed> {
  const defaulted = 'defaulted' in table ? table.defaulted : undefined
  return passTable(table, onRows, (parts, onAdded) =>
    addInParts(scope, parts, { ...entry, defaulted }, onAdded),
  )
}

/** Tells what entering the rows of a large file would do, if no other file of its kind goes in before it. */
export function countTable(
  scope: OrganisationScope,
  table: LargeTable,
  onRows = nobody,
): Promise<TablePassed> {
  return passTable(table, onRows, (parts, onCounted) => countInParts(scope, parts, onCounted))
}

/** Reads a file that has gone in already, for what is to be told of it. */
export async function readOver(table: TableRead | LargeTable): Promise<TableTold> {
  const passed = await passTable(table, nobody, async (parts) => {
    for (const _ of parts) await nextTurn()
    return new Set()
  })
  return passed.told
}

type Pass = (
  parts: Iterable<RecordLists>,
  onPart: (added: AddedRecords) => Promise<void>,
) => Promise<ReadonlySet<string>>

async function passTable(table: TableRead | LargeTable, onRows: OnRows, pass: Pass): Promise<TablePassed> {
  const { name, kind } = table
  const open = 'parts' in table ? partsOfLarge(table) : partsOfWhole(table)
  const counts = { accepted: 0, unchanged: 0, superseded: 0 }
  let done = 0
  const touched = await pass(open.parts, async (added) => {
    const { accepted, unchanged, superseded } = added.counts[kind]
    counts.accepted += accepted
    counts.unchanged += unchanged
    counts.superseded += superseded
    done += accepted + unchanged + superseded
    await onRows(done, open.share())
  })
  const outcome = open.outcome()
  counts.unchanged += outcome.duplicates + outcome.replaced
  return { entered: { ...counts, vehicles: touched.size }, touched, told: { ...outcome, name, kind } }
}

/** So many rows at a time: seldom enough to cost nothing, often enough to be seen moving. */
const ROWS_AT_ONCE = 5000

/** A file in parts, how much of it they were, and what is known at its end. */
type Opened = { parts: Iterable<RecordLists>; share: () => number; outcome: () => TableOutcome }

function partsOfLarge(table: LargeTable): Opened {
  let share = 0
  let outcome: TableOutcome | null = null
  function* parts(): Generator<RecordLists, void, undefined> {
    const steps = table.parts(ROWS_AT_ONCE)
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        outcome = step.value
        return
      }
      share = step.value.share
      yield step.value.records
    }
  }
  return {
    parts: parts(),
    share: () => share,
    outcome: () => {
      if (outcome === null) throw new Error(`${table.name} was not read to its end`)
      return outcome
    },
  }
}

function partsOfWhole(table: TableRead): Opened {
  const { kind, records } = table
  const rows = records[kind]
  // Vehicles that are there are held together, in an order of their own: one part.
  const atOnce = kind === 'vehicles' ? Math.max(1, rows.length) : ROWS_AT_ONCE
  const count = Math.ceil(rows.length / atOnce)
  let done = 0
  function* parts(): Generator<RecordLists, void, undefined> {
    while (done < count) {
      const part = rows.slice(done * atOnce, (done + 1) * atOnce)
      done++
      yield { ...noRecords(), [kind]: part }
    }
  }
  return { parts: parts(), share: () => done / Math.max(1, count), outcome: () => table }
}

/** Notes what a file says of parts, in the transaction of `scope`. */
export async function enterParts(
  scope: OrganisationScope,
  { parts }: PartsRead,
  entry: Entry,
): Promise<EnteredFile> {
  const said = parts.map((row) => ({ ...row, whole: false }))
  return { ...(await stateParts(scope, said, entry)), vehicles: 0 }
}

/** The rows of all files that do not go in. */
export const rejectedIn = ({ parts }: IntakeRead, told: readonly TableTold[]) =>
  [...told, ...parts].flatMap(({ rejected }) => rejected)

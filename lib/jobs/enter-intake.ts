import type { Database } from '@/lib/store/database'
import type { EnteredFile, IntakeSummary } from '@/lib/store/intake-summary'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readIntake } from '@/lib/store/read/intake'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { changeLibrary } from '@/lib/store/write/change-library'
import { noteEntered, noteIntake, noteIntakeState, noteLibrary } from '@/lib/store/write/note-intake'
import type { JobProgress } from '@/lib/store/write/note-job'
import { JobRefusal } from './inner/failure'
import {
  enterParts,
  enterTable,
  type IntakeRead,
  inTurn,
  readIntakeNow,
  readOver,
  rejectedIn,
  type TableTold,
} from './inner/intake-files'
import { summaryOf } from './inner/intake-summary'

/** For whom files go in, and who wants to know how far it is. */
export type Entering = {
  by: string | null
  now: () => Date
  onProgress?: (progress: JobProgress) => Promise<void>
}

/**
 * Takes in files that were laid aside and looked over. Each is a transaction of its own, in the order in which rows
 * speak of each other: all of a file goes in or nothing. What went in before a failure is not entered again.
 */
export async function enterIntake(
  database: Database,
  organisation: OrganisationId,
  id: string,
  entering: Entering,
): Promise<IntakeSummary> {
  const { now, onProgress = async () => {} } = entering
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const intake = await withOrganisation(database, organisation, (scope) => readIntake(scope, id))
  if (!intake?.summary) throw new JobRefusal('These files have not been read yet')
  const read = await readIntakeNow(database, organisation, id, now())
  const entered = new Map<string, EnteredFile>(Object.entries(intake.summary.entered))
  const library = intake.summary.entered[LIBRARY]
    ? intake.summary.library
    : await enterLibrary(read, id, entering, write)

  const rowsIn = new Map(intake.summary.files.map((file) => [file.name, rowsOf(file)]))
  const total = read.files.reduce((sum, { name }) => sum + (rowsIn.get(name) ?? 0), 0)
  const touched = new Set<string>()
  const told: TableTold[] = []
  let done = 0
  for (const table of inTurn(read)) {
    const progress = (rows: number) =>
      onProgress({ done: Math.min(done + rows, total), total, message: table.name })
    if (entered.has(table.name)) told.push(await readOver(table))
    else {
      const file = await write(async (scope) => {
        const file = await enterTable(scope, table, { now: now(), by: entering.by, intake: id }, progress)
        await noteEntered(scope, id, table.name, file.entered)
        return file
      })
      told.push(file.told)
      entered.set(table.name, file.entered)
      for (const unit of file.touched) touched.add(unit)
    }
    done += rowsIn.get(table.name) ?? 0
  }
  for (const parts of read.parts)
    if (!entered.has(parts.name))
      entered.set(
        parts.name,
        await write(async (scope) => {
          const file = await enterParts(scope, parts, { now: now(), by: entering.by, intake: id })
          await noteEntered(scope, id, parts.name, file)
          return file
        }),
      )
  const summary = summaryOf(read, told, entered, { library, entered: Object.fromEntries(entered), touched })
  const rejected = rejectedIn(read, told)
  await write(async (scope) => {
    await noteIntake(scope, { id, summary, rejected, now: now() })
    await noteIntakeState(scope, id, 'done', now())
  })
  return summary
}

/** The rows of a file that went in, or were there, when it was looked over. */
const rowsOf = ({ accepted, unchanged, superseded }: EnteredFile): number => accepted + unchanged + superseded

/** Under which name it is noted that the library went in: no file has it. */
const LIBRARY = ''

async function enterLibrary(
  read: IntakeRead,
  id: string,
  { by, now }: Entering,
  write: <T>(work: (scope: OrganisationScope) => Promise<T>) => Promise<T>,
): Promise<IntakeSummary['library']> {
  const { library: given, libraryBefore: before } = read
  if (given === null) return null
  return write(async (scope) => {
    const change = await changeLibrary(scope, { content: given.content, now: now(), by })
    if (!change.ok) throw new JobRefusal(`${given.name} can no longer be put in force; look it over again`)
    const library = { before, put: change.version }
    await noteLibrary(scope, id, library)
    await noteEntered(scope, id, LIBRARY, { accepted: 0, unchanged: 0, superseded: 0, vehicles: 0 })
    return library
  })
}

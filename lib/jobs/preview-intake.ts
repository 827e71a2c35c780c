import type { Database } from '@/lib/store/database'
import type { EnteredFile, IntakeSummary } from '@/lib/store/intake-summary'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { rehearse } from '@/lib/store/rehearse'
import { withOrganisation } from '@/lib/store/with-organisation'
import { changeLibrary } from '@/lib/store/write/change-library'
import { noteIntake } from '@/lib/store/write/note-intake'
import type { JobProgress } from '@/lib/store/write/note-job'
import {
  countTable,
  enterParts,
  enterTable,
  type IntakeRead,
  inTurn,
  readIntakeNow,
  rejectedIn,
  type TableTold,
} from './inner/intake-files'
import { summaryOf } from './inner/intake-summary'

/**
 * Reads files that were laid aside and notes what entering them would do: everything is entered in one transaction
 * that is then taken back, so that what is told is what happens. Only the rows of a large file are held against what is
 * there without being written, which takes a third of the time.
 *
 * @param onProgress told of the bytes that have been read
 */
export async function previewIntake(
  database: Database,
  organisation: OrganisationId,
  id: string,
  now: Date,
  onProgress: (progress: JobProgress) => Promise<void> = async () => {},
): Promise<IntakeSummary> {
  const read = await readIntakeNow(database, organisation, id, now)
  const { told, entered, touched, library } = await tryOut(database, organisation, read, {
    id,
    now,
    onProgress,
  })
  const summary = summaryOf(read, told, entered, { library, entered: {}, touched })
  const rejected = rejectedIn(read, told)
  await withOrganisation(
    database,
    organisation,
    (scope) => noteIntake(scope, { id, summary, rejected, now }),
    'write',
  )
  return summary
}

function tryOut(
  database: Database,
  organisation: OrganisationId,
  read: IntakeRead,
  { id, now, onProgress }: { id: string; now: Date; onProgress: (progress: JobProgress) => Promise<void> },
): Promise<{
  told: TableTold[]
  entered: Map<string, EnteredFile>
  touched: Set<string>
  library: IntakeSummary['library']
}> {
  return rehearse(database, organisation, async (scope) => {
    let library: IntakeSummary['library'] = null
    if (read.library) {
      const change = await changeLibrary(scope, { content: read.library.content, now, by: null })
      if (change.ok) library = { before: read.libraryBefore, put: change.version }
    }
    const entered = new Map<string, EnteredFile>()
    const touched = new Set<string>()
    const told: TableTold[] = []
    const bytesIn = new Map(read.files.map(({ name, bytes }) => [name, bytes.length]))
    const total = [...bytesIn.values()].reduce((sum, bytes) => sum + bytes, 0)
    let passed = 0
    for (const table of inTurn(read)) {
      const bytes = bytesIn.get(table.name) ?? 0
      const progress = (_: number, share: number) =>
        onProgress({ done: Math.round(passed + share * bytes), total, message: table.name })
      const file =
        'parts' in table && isAlone(table, read)
          ? await countTable(scope, table, progress)
          : await enterTable(scope, table, { now, by: null, intake: id }, progress)
      entered.set(table.name, file.entered)
      told.push(file.told)
      for (const unit of file.touched) touched.add(unit)
      passed += bytes
    }
    for (const file of read.parts)
      entered.set(file.name, await enterParts(scope, file, { now, by: null, intake: id }))
    return { told, entered, touched, library }
  })
}

/** Whether no other file holds rows of the same kind, so that none of its rows goes in before it. */
const isAlone = ({ kind }: { kind: string }, { tables, large }: IntakeRead): boolean =>
  [...tables, ...large].filter((table) => table.kind === kind).length === 1

import type { Database } from '@/lib/store/database'
import type { EnteredFile, IntakeSummary } from '@/lib/store/intake-summary'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { rehearse } from '@/lib/store/rehearse'
import { withOrganisation } from '@/lib/store/with-organisation'
import { changeLibrary } from '@/lib/store/write/change-library'
import { noteIntake } from '@/lib/store/write/note-intake'
import { enterParts, enterTable, type IntakeRead, readIntakeNow, rejectedIn } from './inner/intake-files'
import { summaryOf } from './inner/intake-summary'

/**
 * Reads files that were laid aside and notes what entering them would do: everything is entered in one transaction
 * that is then taken back, so that what is told is what happens.
 */
export async function previewIntake(
  database: Database,
  organisation: OrganisationId,
  id: string,
  now: Date,
): Promise<IntakeSummary> {
  const read = await readIntakeNow(database, organisation, id, now)
  const { entered, touched, library } = await tryOut(database, organisation, read, { id, now })
  const summary = summaryOf(read, entered, { library, entered: {}, touched })
  const rejected = rejectedIn(read)
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
  { id, now }: { id: string; now: Date },
): Promise<{
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
    for (const table of read.tables) {
      const file = await enterTable(scope, table, { now, by: null, intake: id })
      entered.set(table.name, file.entered)
      for (const unit of file.touched) touched.add(unit)
    }
    for (const file of read.parts)
      entered.set(file.name, await enterParts(scope, file, { now, by: null, intake: id }))
    return { entered, touched, library }
  })
}

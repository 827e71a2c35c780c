import { readFiles } from '@/lib/intake/read-files'
import { parseLibrary } from '@/lib/records/library'
import type { Database } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { putLibrary } from '@/lib/store/write/put-library'
import { dayIn } from '@/lib/units/dates'
import { type Demo, makeDemos } from '@/seed/demo'

/**
 * Brings the invented organisations of `seed/` in, on the way that every data folder takes.
 *
 * @param now the present instant: the demo's records end the day before
 */
export async function addDemo(database: Database, now: Date): Promise<void> {
  const demos = makeDemos({ today: dayIn('UTC', now) })
  // An instant apart, so that they keep their order: the oldest organisation comes first.
  for (const [i, demo] of demos.entries()) await addOne(database, demo, new Date(now.getTime() + i))
}

async function addOne(database: Database, demo: Demo, now: Date): Promise<void> {
  const parsed = parseLibrary(demo.libraryJson)
  if (!parsed.ok) throw new Error(`The demo's library is not valid: ${parsed.errors[0]?.message}`)
  const { records, rejected } = readFiles(demo.files, parsed.library, dayIn(demo.organisation.timeZone, now))
  if (rejected[0])
    throw new Error(`The demo has a row that is rejected: ${rejected[0].file}:${rejected[0].line}`)

  const { name } = demo.organisation
  const id = await createOrganisation(database, { name, settings: records.settings, owner: demo.person, now })
  if (id === null) return // another start was first
  await withOrganisation(
    database,
    organisationId(id),
    async (scope) => {
      await putLibrary(scope, { content: demo.libraryJson, now })
      await addRecords(scope, records, { now, by: null })
    },
    'write',
  )
}

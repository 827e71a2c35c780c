import type { PartRow } from '@/lib/records/part-stock'
import type { Records } from '@/lib/records/rows'
import type { Database } from '@/lib/store/database'
import type { MovedRows } from '@/lib/store/moved-tables'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { addFit } from '@/lib/store/write/add-fit'
import { addRecords } from '@/lib/store/write/add-records'
import { askRefit } from '@/lib/store/write/ask-refit'
import { createOrganisation, type NewOrganisation } from '@/lib/store/write/create-organisation'
import { putLibrary } from '@/lib/store/write/put-library'
import { putMovedRows } from '@/lib/store/write/put-moved-rows'
import { stateParts } from '@/lib/store/write/state-parts'
import type { Day } from '@/lib/units/dates'

/** What an organisation begins with. */
export type Filling = {
  /** A library file's text, which is valid. */
  library: string
  records: Records
  parts?: readonly PartRow[]
  /** The versions of the library before it, the oldest first. */
  earlier?: readonly { content: string; enteredAt: Date }[]
  /** What was learned before, as `fit.json`. */
  fit?: { content: string; asOf: Day } | null
  /** Whether the records are to be learned from as soon as the work behind the pages is there. */
  learn?: boolean
}

/**
 * Makes an organisation with its library and its records: all of it, or nothing.
 *
 * @returns its id; null when there is one of that name
 */
export async function makeFilled(
  database: Database,
  organisation: NewOrganisation,
  { library, records, parts = [], earlier = [], fit = null, learn = false }: Filling,
): Promise<OrganisationId | null> {
  const { now } = organisation
  const id = await createOrganisation(database, organisation, async (tx, id) => {
    const scope = { organisation: organisationId(id), tx }
    for (const { content, enteredAt } of earlier) await putLibrary(scope, { content, now: enteredAt })
    await putLibrary(scope, { content: library, now })
    await addRecords(scope, records, { now, by: null })
    const said = parts.map((part) => ({ ...part, whole: true }))
    await stateParts(scope, said, { now, by: null })
    const renewals = records.repairs.filter(({ action }) => action !== 'inspect').length
    const libraryVersion = earlier.length + 1
    if (fit) await addFit(scope, { ...fit, libraryVersion, renewals, by: null, now })
    if (learn) await askRefit(scope, { by: null, now })
  })
  return id === null ? null : organisationId(id)
}

/**
 * Makes an organisation of all the rows that it had elsewhere: all of it, or nothing.
 *
 * @returns its id; null when there is one of that name
 * @throws MoveRefusal where the rows cannot be taken in
 */
export async function makeMoved(
  database: Database,
  organisation: NewOrganisation,
  rows: MovedRows,
): Promise<OrganisationId | null> {
  const id = await createOrganisation(database, organisation, (tx, id) =>
    putMovedRows({ organisation: organisationId(id), tx }, rows, organisation.now),
  )
  return id === null ? null : organisationId(id)
}

import { readFiles } from '@/lib/intake/read-files'
import { type Library, parseLibrary } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { organisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { putLibrary } from '@/lib/store/write/put-library'
import { parseDay } from '@/lib/units/dates'
import { makeDemos } from '@/seed/demo'
import { DEMO_NAMES } from '@/seed/demo-names'

export const NOW = new Date('2026-03-01T12:00:00Z')
export const TODAY = parseDay('2026-03-01')!

/** A library, as its author wrote it too, and records. */
export type SomeFleet = { content: string; library: Library; records: Records }

/** The first demo's library, and the records of its first vehicles; all of them where none is named. */
export function demoFleet(vehicles = Number.POSITIVE_INFINITY): SomeFleet {
  const { records, ...library } = wholeDemo()
  const units = new Set(records.vehicles.slice(0, vehicles).map(({ unit }) => unit))
  const settings = { ...records.settings, timeZone: 'UTC' }
  return { ...library, records: { ...partOf(records, ({ unit }) => units.has(unit)), settings } }
}

let made: SomeFleet | null = null

/** Made once for all files of a worker: it takes a second. */
function wholeDemo(): SomeFleet {
  if (made) return made
  const [demo] = makeDemos({ today: TODAY, names: DEMO_NAMES.slice(0, 1) })
  const parsed = parseLibrary(demo?.libraryJson ?? '')
  if (!demo || !parsed.ok) throw new Error('The demo’s library is not valid')
  const { records } = readFiles(demo.files, parsed.library, TODAY)
  made = { content: demo.libraryJson, library: parsed.library, records }
  return made
}

/** The rows of every kind for which `wanted` holds. */
export function partOf(records: Records, wanted: (row: { unit: string }) => boolean): Records {
  return {
    vehicles: records.vehicles.filter(wanted),
    readings: records.readings.filter(wanted),
    codes: records.codes.filter(wanted),
    checks: records.checks.filter(wanted),
    repairs: records.repairs.filter(wanted),
    changes: records.changes.filter(wanted),
    settings: records.settings,
  }
}

/** An organisation that has the fleet's settings and library, and no records yet. */
export async function withLibrary(
  database: Database,
  name: string,
  { content, records }: SomeFleet,
): Promise<OrganisationId> {
  const id = await createOrganisation(database, { name, settings: records.settings, now: NOW })
  const organisation = organisationId(id ?? '')
  await withOrganisation(database, organisation, (scope) => putLibrary(scope, { content, now: NOW }), 'write')
  return organisation
}

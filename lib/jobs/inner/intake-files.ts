import type { PartsRead } from '@/lib/intake/read-parts'
import { readStaged, type StagedFile, type StagedRead } from '@/lib/intake/read-staged'
import type { TableRead } from '@/lib/intake/read-tables'
import { noRecords } from '@/lib/intake/tables'
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
import { addInParts } from '@/lib/store/write/add-records'
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

/** So many rows at a time: seldom enough to cost nothing, often enough to be seen moving. */
const ROWS_AT_ONCE = 10_000

/** Enters the rows of one file in the transaction of `scope`. */
export async function enterTable(
  scope: OrganisationScope,
  { kind, records, defaulted, duplicates, replaced }: TableRead,
  entry: Entry,
  onRows: (rows: number) => Promise<void> = async () => {},
): Promise<{ entered: EnteredFile; touched: ReadonlySet<string> }> {
  const entered = { accepted: 0, unchanged: duplicates + replaced, superseded: 0 }
  const rows = records[kind]
  // Vehicles that are there are held together, in an order of their own: one part.
  const atOnce = kind === 'vehicles' ? rows.length : ROWS_AT_ONCE
  const parts = Array.from({ length: Math.ceil(rows.length / Math.max(1, atOnce)) }, (_, k) => ({
    ...noRecords(),
    [kind]: rows.slice(k * atOnce, (k + 1) * atOnce),
  }))
  let done = 0
  const touched = await addInParts(scope, parts, { ...entry, defaulted }, async ({ counts }) => {
    const { accepted, unchanged, superseded } = counts[kind]
    entered.accepted += accepted
    entered.unchanged += unchanged
    entered.superseded += superseded
    done += accepted + unchanged + superseded
    await onRows(done)
  })
  return { entered: { ...entered, vehicles: touched.size }, touched }
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
export const rejectedIn = ({ tables, parts }: IntakeRead) =>
  [...tables, ...parts].flatMap(({ rejected }) => rejected)

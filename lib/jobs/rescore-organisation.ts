import { scoreFleet } from '@/lib/decisions/score-fleet'
import { parseLibrary } from '@/lib/records/library'
import type { Database } from '@/lib/store/database'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { dayIn } from '@/lib/units/dates'

/**
 * Scores an organisation's records as they stand in the store, as of today in its time zone, for every stored horizon.
 *
 * @param now the present instant
 * @returns how many vehicles were scored; none without a library
 */
export async function rescoreOrganisation(
  database: Database,
  id: OrganisationId,
  now: Date,
): Promise<number> {
  const { records, stored } = await withOrganisation(database, id, async (scope) => ({
    records: await readRecords(scope),
    stored: await readLibraryInForce(scope),
  }))
  if (!stored) return 0
  const parsed = parseLibrary(stored.content)
  if (!parsed.ok) throw new Error(`The library in force is not valid: ${parsed.errors[0]?.message}`)
  const { library } = parsed
  const asOf = dayIn(records.settings.timeZone, now)
  const horizons = STORED_HORIZONS_DAYS.map((days) => ({ days }))
  const scores = scoreFleet({ records, library, asOf, horizons })
  const origin = { vehicles: records.vehicles, library, libraryVersion: stored.version, scoredAt: now }
  await withOrganisation(database, id, (scope) => replaceScores(scope, scores, origin), 'write')
  return scores.vehicles.length
}

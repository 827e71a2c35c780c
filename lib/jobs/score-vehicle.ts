import { type ComponentScore, scoreFleet } from '@/lib/decisions/score-fleet'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'

/**
 * Scores one vehicle as of today for a horizon for which no scores are kept.
 *
 * @param now the present instant
 * @returns one score a component; none for a vehicle that is not scored
 */
export async function scoreVehicle(
  database: Database,
  organisation: OrganisationId,
  { unit, horizonDays, now }: { unit: string; horizonDays: number; now: Date },
): Promise<ComponentScore[]> {
  const { records, known } = await withOrganisation(database, organisation, async (scope) => ({
    records: await readRecords(scope),
    known: await readKnownLibrary(scope),
  }))
  if (!known) return []
  const asOf = dayIn(records.settings.timeZone, now)
  const scores = scoreFleet({ records, library: known.library, asOf, horizons: [{ days: horizonDays }] })
  return scores.vehicles.find((vehicle) => vehicle.unit === unit)?.components ?? []
}

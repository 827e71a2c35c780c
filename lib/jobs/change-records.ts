import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { rescoreTouched } from './inner/rescore-touched'
import type { VehicleChange } from './vehicle-change'

/** More vehicles than this are left to whoever brings scores up to date in the background. */
const SCORED_AT_ONCE = 20

/**
 * Changes records in one transaction, and where few vehicles are touched scores them right after it.
 *
 * @param act what is done; it answers the vehicles that it touched
 * @param now the present instant
 * @returns what the act answered, and what became of the scores; no vehicle where too many were touched
 */
export async function changeRecords<Result extends { touched: string[] } | { ok: false }>(
  database: Database,
  organisation: OrganisationId,
  act: (scope: OrganisationScope) => Promise<Result>,
  now: Date,
): Promise<{ result: Result; vehicles: VehicleChange[] }> {
  const result = await withOrganisation(database, organisation, act, 'write')
  const touched = 'touched' in result ? result.touched : []
  if (touched.length === 0 || touched.length > SCORED_AT_ONCE) return { result, vehicles: [] }
  const rescore = (scope: OrganisationScope) => rescoreTouched(scope, touched, now)
  return { result, vehicles: await withOrganisation(database, organisation, rescore, 'write') }
}

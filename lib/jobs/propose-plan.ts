import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readPlanInForce } from '@/lib/store/read/plan-in-force'
import { readPlanProgress } from '@/lib/store/read/plan-job'
import { readIsPlanProposalAsked, readPlanProposal } from '@/lib/store/read/plan-proposal'
import { readPlanTerms } from '@/lib/store/read/plan-terms'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { countStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askPlanProposal } from '@/lib/store/write/plan-proposal'
import { dayIn } from '@/lib/units/dates'
import { planChanges } from './plan-changes'

/** Once a day at most, whether or not it came to anything; less than a day, for a day's scores are not ready by the hour. */
const NOT_MORE_OFTEN_MS = 12 * 60 * 60_000

/**
 * Asks that a plan be proposed where the one in force, and what was proposed after it, do not know what has changed since
 * a past day. It waits until all scores are of today, so that it comes after the scoring of the night.
 *
 * @param now the present instant
 */
export async function proposePlanWhenDue(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<void> {
  const isDue = await withOrganisation(database, organisation, (scope) => isProposalDue(scope, now))
  if (!isDue) return
  await withOrganisation(
    database,
    organisation,
    (scope) => askPlanProposal(scope, { by: null, now }),
    'write',
  )
}

async function isProposalDue(scope: OrganisationScope, now: Date): Promise<boolean> {
  const inForce = await readPlanInForce(scope)
  // Without it nobody has planned all vehicles yet, or not since plans say what they rest on.
  if (!inForce?.content.urgent) return false
  const latest = (await readPlanProposal(scope)) ?? inForce
  const today = dayIn((await readTerms(scope)).timeZone, now)
  if (latest.asOf >= today) return false
  const terms = await readPlanTerms(scope)
  if (!terms || terms.bays.length === 0) return false
  if ((await readPlanProgress(scope)).job !== null) return false
  if (await readIsPlanProposalAsked(scope, new Date(now.getTime() - NOT_MORE_OFTEN_MS))) return false
  const scoring = await readScoringGround(scope, now)
  if (!scoring || (await countStaleVehicles(scope, scoring)) > 0) return false
  return (await planChanges(scope, latest, { today, terms })) !== null
}

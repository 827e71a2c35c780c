import { hoursAWeek } from '@/lib/decisions/rank-visits'
import { fleetVisits } from '@/lib/jobs/fleet-visits'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readPlanTerms } from '@/lib/store/read/plan-terms'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { visitsAsked } from './visits-asked'
import { visitsView } from './visits-view'

/** The visits that an address asks for, in a week’s hours of the bays where it says none; `found` is null before the first library. */
export async function readVisits(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  parameters: Record<string, string | string[] | undefined>,
  now: Date,
) {
  const { terms, library, plan } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    library: (await readKnownLibrary(scope))?.library ?? null,
    plan: await readPlanTerms(scope),
  }))
  const usualHours = plan && hoursAWeek(plan)
  const asked = visitsAsked(parameters, usualHours)
  const found = library && (await fleetVisits(database, organisation, now))
  return {
    ...{ terms, asked, usualHours },
    found: found && { ...found, library, view: visitsView(found, asked) },
  }
}

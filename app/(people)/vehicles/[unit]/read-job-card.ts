import { nextVisit, type Visiting } from '@/lib/jobs/next-visit'
import { type CardVisit, type PlannedVisit, plannedVisit } from '@/lib/jobs/planned-visit'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'

export type JobCardData = NonNullable<Awaited<ReturnType<typeof readJobCard>>>

/** Of which visit the card is: one on the plan, by its id, or the next, as the vehicle comes. */
export type OfVisit = { planned: string } | { visiting: Visiting }

/** What a job card says of a vehicle's visit; null where there is no such vehicle, or it has no such visit. */
export async function readJobCard(
  scope: OrganisationScope,
  { unit, of }: { unit: string; of: OfVisit },
  now: Date,
) {
  const head = await readVehicleHead(scope, unit, HISTORY_HORIZON_DAYS)
  if (!head) return null
  const terms = await readTerms(scope)
  const today = dayIn(terms.timeZone, now)
  const planned = 'planned' in of ? await plannedVisit(scope, { unit, id: of.planned }, today) : null
  if ('planned' in of && !planned) return null
  const visit: CardVisit | PlannedVisit | null =
    'planned' in of ? planned : await nextVisit(scope, { unit, ...of.visiting }, now)
  const library = (await readKnownLibrary(scope))?.library
  return {
    ...{ terms, head, today, visit, planned },
    components: await readVehicleComponents(scope, unit, HISTORY_HORIZON_DAYS),
    family: library?.families.find(({ key }) => key === head.familyKey) ?? null,
  }
}

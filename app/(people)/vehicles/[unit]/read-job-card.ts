import { nextVisit, type Visiting } from '@/lib/jobs/next-visit'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'

export type JobCardData = NonNullable<Awaited<ReturnType<typeof readJobCard>>>

/** What a job card says of a vehicle's visit; null where there is no such vehicle. */
export async function readJobCard(
  scope: OrganisationScope,
  { unit, visiting }: { unit: string; visiting: Visiting },
  now: Date,
) {
  const head = await readVehicleHead(scope, unit, HISTORY_HORIZON_DAYS)
  if (!head) return null
  const terms = await readTerms(scope)
  const library = (await readKnownLibrary(scope))?.library
  return {
    ...{ terms, head },
    today: dayIn(terms.timeZone, now),
    components: await readVehicleComponents(scope, unit, HISTORY_HORIZON_DAYS),
    family: library?.families.find(({ key }) => key === head.familyKey) ?? null,
    visit: await nextVisit(scope, { unit, ...visiting }, now),
  }
}

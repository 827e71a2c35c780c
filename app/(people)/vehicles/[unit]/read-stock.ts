import { engineStory } from '@/lib/records/engine-story'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'

/** What the sheet of a vehicle shows; null where there is no such vehicle. */
export function readStock(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  unit: string,
  now: Date,
) {
  return withOrganisation(database, organisation, async (scope) => {
    const [records] = groupByVehicle(await readRecords(scope, [unit]))
    const head = await readVehicleHead(scope, unit, 90)
    if (!records || !head) return null
    const terms = await readTerms(scope)
    const library = (await readKnownLibrary(scope))?.library
    return {
      ...{
        terms,
        head,
        story: engineStory(records),
        vehicle: records.vehicle,
        today: dayIn(terms.timeZone, now),
      },
      family: library?.families.find(({ key }) => key === records.vehicle.family) ?? null,
    }
  })
}

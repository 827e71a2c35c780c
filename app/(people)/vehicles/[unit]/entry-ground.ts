import type { Family } from '@/lib/records/library'
import type { Odometer } from '@/lib/records/trusted-odometer'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { readTerms } from '@/lib/store/read/terms'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import { type Formats, formatsFor } from '../../../ui/formats'

/** What a form of one vehicle is read in the light of. */
export type Ground = {
  unit: string
  /** Null where the library does not have its engine. */
  family: Family | null
  today: Day
  odometer: Odometer
  /** What a number without a unit is in, and how numbers are said back: as the form said, else the organisation's. */
  distanceOf(said: string | undefined): 'km' | 'mi'
  formats: Formats
}

type Asked = { database: Database; organisation: OrganisationId; unit: string; now: Date }

/** @returns null where there is no such vehicle */
export function readEntryGround({ database, organisation, unit, now }: Asked): Promise<Ground | null> {
  return withOrganisation(database, organisation, (scope) => entryGroundIn(scope, { unit, now }))
}

/** The same in a transaction in which something is done on that ground. */
export async function entryGroundIn(
  scope: OrganisationScope,
  { unit, now }: Pick<Asked, 'unit' | 'now'>,
): Promise<Ground | null> {
  const [terms, known] = [await readTerms(scope), await readKnownLibrary(scope)]
  const [vehicle] = groupByVehicle(await readRecords(scope, [unit]))
  if (!vehicle) return null
  const today = dayIn(terms.timeZone, now)
  return {
    unit,
    family: known?.library.families.find(({ key }) => key === vehicle.vehicle.family) ?? null,
    today,
    odometer: odometerOf(vehicle, today),
    distanceOf: (said) => (said === 'km' || said === 'mi' ? said : terms.distance),
    formats: formatsFor(terms, terms.distance),
  }
}

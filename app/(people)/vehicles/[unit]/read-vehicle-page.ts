import { nextVisit } from '@/lib/jobs/next-visit'
import { vehicleOdometer } from '@/lib/jobs/vehicle-odometer'
import { vehicleOutlook } from '@/lib/jobs/vehicle-outlook'
import { readToExplain } from '@/lib/jobs/why-chance'
import type { Family } from '@/lib/records/library'
import { seenLately } from '@/lib/records/seen-lately'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readDriverReports } from '@/lib/store/read/driver-reports'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLooksWorthMaking } from '@/lib/store/read/looks'
import { readNamesOf } from '@/lib/store/read/names-of'
import { readPhotographs } from '@/lib/store/read/photographs'
import { readProposals } from '@/lib/store/read/proposals'
import { readStopNotices } from '@/lib/store/read/stop-notices'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents, type VehicleComponent } from '@/lib/store/read/vehicle-components'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { liveRecordsOf, readVehicleRecords, type VehicleRecord } from '@/lib/store/read/vehicle-records'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { parseView } from '../../view'
import { keyOf, type Place, visitingAt } from './place'

type Asked = {
  unit: string
  parameters: Parameters<typeof parseView>[0]
  place: Place
  now: Date
}

export type VehiclePageData = NonNullable<Awaited<ReturnType<typeof readVehiclePage>>>

/** Everything that the page of one vehicle shows; null where there is no such vehicle. */
export function readVehiclePage(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  { unit, parameters, place, now }: Asked,
) {
  return withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const { view } = parseView(parameters, terms.distance)
    const head = await readVehicleHead(scope, unit, view.horizonDays)
    const [row] = (await readVehicleRows(scope, { unit, after: null, limit: 1 })).vehicles
    if (!head || !row) return null
    const components = await readVehicleComponents(scope, unit, view.horizonDays)
    const known = await readKnownLibrary(scope)
    const families = known?.library.families.filter(({ retired }) => !retired) ?? []
    const family = known?.library.families.find(({ key }) => key === head.familyKey) ?? null
    const records = await readVehicleRecords(scope, unit)
    const vehicle = liveRecordsOf(row, records)
    const today = dayIn(terms.timeZone, now)
    const opened = openedIn(components, family, records, place.open)
    return {
      ...{ terms, view, head, components, family, families, records, today, opened },
      vehicle: vehicle.vehicle,
      zones: known?.library.zones ?? [],
      cautions: family?.weakPoints.find(({ key }) => key === components[0]?.weakPoint)?.cautions ?? [],
      signSeen: family !== null && seenLately(vehicle, family, today),
      odometer: await vehicleOdometer(scope, vehicle, today),
      looks: (await readLooksWorthMaking(scope, [unit]))[0]?.looks ?? [],
      photographs: await readPhotographs(scope, unit),
      notices: await readStopNotices(scope, { unit }),
      reports: await readDriverReports(scope, { waitingOf: unit }),
      visit: await nextVisit(scope, { unit, ...visitingAt(place) }, now),
      proposals: await readProposals(scope, { unit }),
      names: await readNamesOf(
        scope,
        records.flatMap(({ enteredBy, withdrawnBy }) => [enteredBy, withdrawnBy].filter((id) => id !== null)),
      ),
      explained: opened && (await readToExplain(scope, unit, now)),
      outlook: opened && known ? await vehicleOutlook(scope, { unit, ...opened.component }, now) : [],
    }
  })
}

/** Repairs that count and were done on a component, the latest last. */
function repairsOf(records: VehicleRecord[], { weakPoint, position }: VehicleComponent) {
  return records
    .flatMap((record) => (record.kind === 'repairs' && record.state === 'live' ? record : []))
    .filter(({ row }) => {
      const isHere = row.positions.length === 0 || row.positions.includes(position)
      return row.weakPoint === weakPoint && isHere
    })
    .sort((a, b) => a.row.doneOn - b.row.doneOn)
}

/** The component that is open, with what the library and the records say of it. */
function openedIn(
  components: VehicleComponent[],
  family: Family | null,
  records: VehicleRecord[],
  open: string | null,
) {
  const component = components.find((each) => keyOf(each) === open)
  const weakPoint = family?.weakPoints.find(({ key }) => key === component?.weakPoint)
  if (!component || !weakPoint) return null
  const repairs = repairsOf(records, component)
  const renewal = repairs.findLast(({ row }) => row.action !== 'inspect')?.row
  const failure = repairs.findLast(({ row }) => row.found === 'failed')
  return { component, weakPoint, renewal, failure }
}

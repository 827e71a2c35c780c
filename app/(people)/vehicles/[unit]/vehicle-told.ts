import { dayOfRecord } from '@/lib/records/vehicle-records'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readNamesOf } from '@/lib/store/read/names-of'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents, type VehicleComponent } from '@/lib/store/read/vehicle-components'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { readVehicleRecords, type VehicleRecord } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'
import { formatsFor } from '../../../ui/formats'
import { ADVICE, COMPONENT_COLUMNS, horizonWords, placeWords, slotWords } from '../../../ui/words'
import { noSuchTable, type Twin, type TwinAsked } from '../../twins/answer-twin'
import { dayCell, type Told, told } from '../../twins/twin'
import { parseView } from '../../view'
import { latestFirst } from './record-list'
import { recordWords } from './record-words'

const NO_VEHICLE = 'There is no vehicle of that number.'

type Ground = Awaited<ReturnType<typeof readGround>>
type Found = Ground & { head: NonNullable<Ground['head']> }

async function readGround(scope: OrganisationScope, { params, parameters }: TwinAsked) {
  const terms = await readTerms(scope)
  const { view } = parseView(parameters, terms.distance)
  const unit = params.unit ?? ''
  return { terms, view, unit, head: await readVehicleHead(scope, unit, view.horizonDays) }
}

const ofVehicle =
  (read: (scope: OrganisationScope, found: Found, now: Date) => Promise<Told>): Twin =>
  (asked) =>
    withOrganisation(asked.database, asked.organisation, async (scope) => {
      const { head, ...ground } = await readGround(scope, asked)
      return head ? read(scope, { ...ground, head }, asked.now) : noSuchTable(NO_VEHICLE)
    })

/** The weak points of one vehicle at the horizon of the page: the most urgent first, then the likeliest to fail. */
export const componentsTwin = ofVehicle(async (scope, { terms, view, unit, head }) => {
  const { currency, slotDays } = terms
  const waiting = `${COMPONENT_COLUMNS.waiting} ${slotWords(slotDays)}`
  const inUnit = (km: number | null) => (km === null || view.distance === 'km' ? km : milesFromKm(km))
  return told<VehicleComponent>(
    `weak-points-of-${unit}`,
    head.score?.asOf ?? null,
    [
      ['weak_point', COMPONENT_COLUMNS.weakPoint, ({ name }) => name],
      ['key', 'Key', ({ weakPoint }) => weakPoint],
      ['position', 'Position', ({ position }) => position],
      ['place', 'Place', ({ place, position }) => placeWords(place, position) || null],
      ['advice', COMPONENT_COLUMNS.advice, ({ advice }) => ADVICE[advice]],
      ['p_fail', `Chance within ${horizonWords(view.horizonDays)}`, ({ pFail }) => pFail],
      ['p_low', 'Chance, low end of its 80 % band', ({ pLow }) => pLow],
      ['p_high', 'Chance, high end of its 80 % band', ({ pHigh }) => pHigh],
      ['p_developing', COMPONENT_COLUMNS.going, ({ pDeveloping }) => pDeveloping],
      [
        `remaining_${view.distance}_p50`,
        COMPONENT_COLUMNS.remaining,
        ({ remainingKmP50 }) => inUnit(remainingKmP50),
        view.distance,
      ],
      ['cost_of_waiting', waiting, ({ costOfWaiting }) => costOfWaiting, currency],
      ['waiting_low', `${waiting}, low end of its 80 % band`, ({ waitingLow }) => waitingLow, currency],
      ['waiting_high', `${waiting}, high end of its 80 % band`, ({ waitingHigh }) => waitingHigh, currency],
      ['speaks', COMPONENT_COLUMNS.speaks, ({ speaks }) => speaks],
    ],
    await readVehicleComponents(scope, unit, view.horizonDays),
  )
})

/** Every version of every record of one vehicle, the latest day first. */
export const recordsTwin = ofVehicle(async (scope, { terms, view, unit, head }, now) => {
  const formats = formatsFor(terms, view.distance)
  const known = await readKnownLibrary(scope)
  const family = known?.library.families.find(({ key }) => key === head.familyKey) ?? null
  const records = latestFirst(await readVehicleRecords(scope, unit))
  const by = records.flatMap(({ enteredBy }) => (enteredBy === null ? [] : [enteredBy]))
  const names = await readNamesOf(scope, by)
  const inUnit = (km: number | null) => (km === null || view.distance === 'km' ? km : milesFromKm(km))
  return told<VehicleRecord>(
    `records-of-${unit}`,
    dayIn(terms.timeZone, now),
    [
      ['day', 'Day', (record) => dayCell(dayOfRecord(record))],
      ['table', 'Table', ({ kind }) => kind],
      [`odometer_${view.distance}`, 'Odometer', ({ row }) => inUnit(row.odometerKm), view.distance],
      ['what', 'What', (record) => recordWords(record, family, formats)],
      ['state', 'State', ({ state }) => state],
      ['entered_at', 'Entered (UTC)', ({ enteredAt }) => enteredAt.toISOString()],
      ['entered_by', 'Entered by', ({ enteredBy }) => names.get(enteredBy ?? '') ?? null],
      ['from_file', 'From a file', ({ intakeId }) => intakeId !== null],
    ],
    records,
  )
})

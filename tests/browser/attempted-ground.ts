import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { beginTakingIn, chooseFamilyTaken } from '@/lib/jobs/take-in-family'
import { newLabelSecret } from '@/lib/people/label-key'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { readWorkbookById } from '@/lib/store/read/workbook'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { beginLibraryDraft } from '@/lib/store/write/library-draft'
import { makeLabels } from '@/lib/store/write/make-labels'
import { addPhotograph } from '@/lib/store/write/photograph'
import { putLibrary } from '@/lib/store/write/put-library'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { stageWorkbook } from '@/lib/store/write/stage-workbook'
import { dayIn } from '@/lib/units/dates'
import { aJpeg } from '../records/a-jpeg'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'

/** An organisation of which every page has something to show. */
export type Ground = {
  organisation: OrganisationId
  /** Its vehicle's number, which stands nowhere else. */
  unit: string
  /** A page's or route's address with ids of this organisation in the place of its named parts. */
  addressOf(named: string): string
}

const UNIT = 'ATTEMPTED-1'
const FAMILY = 'plover-22'
const BAD_ROWS = Buffer.from(`unit,read_on,odometer_km\n${UNIT},no day,1\n`)
const SHEET = Buffer.from('Vehicle;Day;Odometer\nATTEMPTED-1;31.01.2026;90000\n')

/** Makes the organisation in the database of the product that runs. */
export async function attemptedGround(database: Database, person: string): Promise<Ground> {
  const now = new Date()
  const made = await createOrganisation(database, { name: 'Attempted', settings: DEFAULT_SETTINGS, now })
  const organisation = organisationId(made ?? '')
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await write((scope) => putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now }))
  await write((scope) => addRecords(scope, someRecords(now), { now, by: null }))
  await freshenScores(database, organisation, now)
  const ids = await write((scope) => beginEverything(scope, { now, by: person }))
  while ((await write((scope) => readWorkbookById(scope, ids.workbook)))?.profile === null)
    await new Promise((resolve) => setTimeout(resolve, 100))
  return { organisation, unit: UNIT, addressOf: (named) => addressWith(named, ids) }
}

function someRecords(now: Date) {
  const today = dayIn('UTC', now)
  return recordsOf({
    vehicles: [
      vehicleRow({ unit: UNIT, family: FAMILY, status: 'stock', inServiceOn: today - 2000, value: 9000 }),
    ],
    readings: [
      readingRow({ unit: UNIT, readOn: today - 300, odometerKm: 150_000 }),
      readingRow({ unit: UNIT, readOn: today - 3, odometerKm: 170_000 }),
    ],
    repairs: [repairRow({ unit: UNIT, doneOn: today - 30, weakPoint: 'injector', found: 'failed' })],
  })
}

type Ids = Awaited<ReturnType<typeof beginEverything>>

/** One of everything that has an address by its id. */
async function beginEverything(scope: OrganisationScope, act: { now: Date; by: string }) {
  const taking = await beginTakingIn(scope, { file: JSON.stringify(EXAMPLE_LIBRARY), ...act })
  if (!taking.ok) throw new Error(taking.errors[0]?.message)
  await chooseFamilyTaken(scope, { id: taking.id, chosen: FAMILY, key: FAMILY })
  await makeLabels(scope, [UNIT], { ...act, newSecret: newLabelSecret })
  const photograph = { content: aJpeg(2, 2), width: 2, height: 2, note: '', takenAt: act.now }
  const repair = (await readVehicleRecords(scope, UNIT)).find(({ kind }) => kind === 'repairs')
  const rows = [{ name: 'readings.csv', kind: 'readings' as const, bytes: BAD_ROWS }]
  return {
    taking: taking.id,
    draft: await beginLibraryDraft(scope, { family: EXAMPLE_FAMILY, ...act }),
    photograph: await addPhotograph(scope, { unit: UNIT, ...photograph }, act),
    intake: await stageIntake(scope, rows, act),
    workbook: await stageWorkbook(scope, { name: 'week.csv', bytes: SHEET }, act),
    repair: repair?.id,
  }
}

/** What stands in the place of a named part, the longest beginning of an address first. */
const partsOf = (ids: Ids): [string, string][] => [
  ['/families/new/[draft]/weak-points/[key]', `/families/new/${ids.draft}/weak-points/ignition-coil`],
  ['/families/new/[draft]', `/families/new/${ids.draft}`],
  ['/families/take-in/[taking]', `/families/take-in/${ids.taking}`],
  ['/families/[key]', `/families/${FAMILY}`],
  ['/intake/workbook/[id]', `/intake/workbook/${ids.workbook}`],
  ['/intake/template/[kind]', '/intake/template/readings.csv'],
  ['/intake/[id]', `/intake/${ids.intake}`],
  ['/library/[version]', '/library/1'],
  ['/photographs/[id]', `/photographs/${ids.photograph}`],
  ['/said/[repair]', `/said/${ids.repair}`],
  ['/interval/[weakPoint]', '/interval/injector'],
  ['/sheet/[place]', '/sheet/0'],
  ['/words/[meaning]', '/words/lamp'],
  ['/[[...unit]]', ''],
  ['[unit]', UNIT],
  // Parts of a draft: another one is begun.
  ['[version]', 'new'],
  ['[key]', 'new'],
]

/** What a page or file needs to be asked, that is not there without. */
const QUERIES: Record<string, string> = {
  '/families/compare': 'from=1&to=1',
  '/labels/sheet': `only=${UNIT}&size=large`,
  '/labels/sheet.pdf': `only=${UNIT}&size=large`,
  '/looks/sheet': `units=${UNIT}`,
  '/looks/sheet.pdf': `units=${UNIT}`,
  '/visits/job-cards.pdf': `unit=${UNIT}`,
  '/intake/[id]/refused': 'file=readings.csv',
}

function addressWith(named: string, ids: Ids): string {
  let address = named
  for (const [part, value] of partsOf(ids)) address = address.replace(part, value)
  const query = QUERIES[named]
  return query === undefined ? address : `${address}?${query}`
}

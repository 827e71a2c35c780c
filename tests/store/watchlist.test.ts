import { beforeAll, describe, expect, test } from 'vitest'
import type { FleetScores } from '@/lib/decisions/score-fleet'
import type { Records } from '@/lib/records/rows'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readFamilyNames } from '@/lib/store/read/family-names'
import { readStandings } from '@/lib/store/read/standings'
import { readTerms } from '@/lib/store/read/terms'
import { readWatchlist, type WatchlistRow } from '@/lib/store/read/watchlist'
import {
  BARE_QUERY,
  type SortKey,
  WATCHLIST_COLUMNS,
  type WatchlistQuery,
} from '@/lib/store/read/watchlist-query'
import { readWhatTodayAsks } from '@/lib/store/read/what-today-asks'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from './example-scores'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
let organisation: OrganisationId

const [B10, B2] = EXAMPLE_SCORES.vehicles
const [vehicle] = EXAMPLE.vehicles

/** The example's two vehicles, one whose engine is not known, and two that differ in nothing but their number. */
const FLEET: Records = {
  ...EXAMPLE,
  vehicles: [
    ...EXAMPLE.vehicles,
    { ...vehicle!, unit: 'A', site: null, customer: 'Reed', family: 'heron-9' },
    { ...vehicle!, unit: 'C-11' },
    { ...vehicle!, unit: 'C-9' },
  ],
}
const SCORES: FleetScores = {
  ...EXAMPLE_SCORES,
  vehicles: [
    ...EXAMPLE_SCORES.vehicles,
    {
      ...B2!,
      unit: 'A',
      assessed: false,
      horizons: [],
      components: [],
      weakPointsCovered: 0,
      lastLookedAtOn: null,
    },
    ...['C-11', 'C-9'].map((unit) => ({
      ...B10!,
      unit,
      components: B10!.components.map((each) => ({ ...each, unit })),
    })),
  ],
}

const by = (column: SortKey['column'], descending = false): SortKey[] => [{ column, descending }]
const BARE: WatchlistQuery = { ...BARE_QUERY, sort: by('unit') }
const ask = (change: Partial<WatchlistQuery>): Promise<WatchlistRow[]> =>
  withOrganisation(database, organisation, (scope) => readWatchlist(scope, { ...BARE, ...change }))
const atAGlance = () =>
  withOrganisation(database, organisation, (scope) => readStandings(scope, BARE.horizonDays))
const units = async (change: Partial<WatchlistQuery>) => (await ask(change)).map(({ unit }) => unit)

function replace(scores: FleetScores): Promise<unknown> {
  const origin = { vehicles: FLEET.vehicles, library: EXAMPLE_LIBRARY, libraryVersion: 1, scoredAt: NOW }
  return withOrganisation(database, organisation, (scope) => replaceScores(scope, scores, origin), 'write')
}

beforeAll(async () => {
  organisation = await anOrganisation(database, 'watchlist')
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
      await addRecords(scope, FLEET, { now: NOW, by: null })
    },
    'write',
  )
  expect((await atAGlance()).asOf).toBeNull()
  await replace(SCORES)
})

test('a row is led by the most urgent advice, though another is likelier to fail', async () => {
  const [row] = await ask({ search: 'B-10' })
  expect(row).toEqual({
    unit: 'B-10',
    plate: vehicle!.plate,
    family: 'Plover 1.6',
    site: 'Mill Yard',
    customer: vehicle!.customer,
    contact: vehicle!.contact,
    status: vehicle!.status,
    history: vehicle!.history,
    value: vehicle!.value,
    askingPrice: vehicle!.askingPrice,
    daysInStock: null,
    aside: null,
    standing: 'stop',
    asOf: SCORES.asOf,
    odometerKm: 100_000.5,
    odometerReadOn: SCORES.asOf - 3,
    odometerEstimated: true,
    combined: 90 / 800,
    weakPoint: 'Injector',
    position: 3,
    place: 'cylinder',
    pFail: 0.2,
    pLow: 90 / 2000,
    pHigh: 90 / 500,
    costOfWaiting: -1 / 3,
    speaks: 'misfire on 3',
    lastFullScanOn: SCORES.asOf - 30,
    lastLookedAtOn: SCORES.asOf - 212,
    weakPointsCovered: 2,
    stale: true, // these scores were put there without saying which records they rest on
    changed: null,
  })
})

test('every horizon has its own numbers, exactly as they were scored', async () => {
  for (const horizonDays of [30, 90, 180, 365]) {
    const [row] = await ask({ search: 'B-2', horizonDays })
    expect([row?.pFail, row?.pLow, row?.pHigh, row?.combined]).toEqual([
      horizonDays / 1000,
      horizonDays / 2000,
      horizonDays / 500,
      horizonDays / 800,
    ])
  }
})

test('a vehicle whose engine is not in the library is there, not assessed, and never counts as fine', async () => {
  const [row] = await ask({ search: 'heron-9' })
  expect(row).toMatchObject({
    unit: 'A',
    standing: 'not-assessed',
    pFail: null,
    weakPoint: null,
    combined: null,
  })
  expect(await units({ standings: ['fine'] })).toEqual(['B-2'])
  expect(await units({ standings: ['not-assessed'] })).toEqual(['A'])
})

describe.each(WATCHLIST_COLUMNS)('sorted by %s', (sort) => {
  test.each([false, true])(
    'descending: %s: every vehicle once, the unknown last, equals by number',
    async (descending) => {
      const found = await units({ sort: by(sort, descending) })
      expect(found.toSorted()).toEqual(['A', 'B-10', 'B-2', 'C-11', 'C-9'])
      if (['chance', 'weakPoint', 'speaks', 'waiting'].includes(sort)) expect(found.at(-1)).toBe('A')
      if (sort !== 'unit') expect(found.indexOf('C-9')).toBeLessThan(found.indexOf('C-11'))
    },
  )
})

test('numbers within vehicle numbers count as numbers, both ways', async () => {
  expect(await units({})).toEqual(['A', 'B-2', 'B-10', 'C-9', 'C-11'])
  expect(await units({ sort: by('unit', true) })).toEqual(['C-11', 'C-9', 'B-10', 'B-2', 'A'])
})

test('never scanned is longest ago', async () => {
  const first = (await units({ sort: by('scan', true) })).slice(0, 2)
  expect(first.toSorted()).toEqual(['A', 'B-2'])
})

test('every word of a search must be found, in any case, and nothing in it is a pattern', async () => {
  expect(await units({ search: 'MISFIRE plover' })).toEqual(['B-10', 'C-9', 'C-11'])
  expect(await units({ search: 'äö 12-345 misfire b-1' })).toEqual(['B-10'])
  for (const search of ['%', '_', 'misfire nothing', "' or true --"])
    expect(await units({ search })).toEqual([])
})

test('the engines that the list is narrowed to are told by name', async () => {
  const names = await withOrganisation(database, organisation, (scope) =>
    readFamilyNames(scope, ['plover-16', 'of nobody']),
  )
  expect([...names]).toEqual([['plover-16', 'Plover 1.6']])
})

test('what today asks for is counted over all vehicles', async () => {
  const asks = await withOrganisation(database, organisation, (scope) => readWhatTodayAsks(scope, 90))
  expect(asks).toMatchObject({
    asOf: SCORES.asOf,
    vehicles: 5,
    byStanding: { stop: 3, book: 0, check: 0, watch: 0, fine: 1, 'not-assessed': 1 },
    costOfNotBooking: 0,
    bandOfNotBooking: { low: 0, high: 0 },
    hasWork: true,
    hasBreakdowns: true,
  })
})

test('an organisation’s own settings come before its library’s', async () => {
  expect(await withOrganisation(database, organisation, readTerms)).toEqual({
    name: 'watchlist',
    locale: 'en',
    timeZone: 'UTC',
    distance: 'mi',
    vehicleNumber: 'vehicle',
    currency: 'EUR',
    slotDays: 14,
  })
})

test('later scores take the place of the earlier ones, which is seen at a glance', async () => {
  const before = (await atAGlance()).version
  expect((await atAGlance()).version).toBe(before)
  await replace({ asOf: SCORES.asOf + 1, vehicles: [B2!] })
  expect(await units({})).toEqual(['B-2'])
  expect((await atAGlance()).asOf).toBe(SCORES.asOf + 1)
  const after = (await atAGlance()).version
  expect(after).not.toBe(before)
  await replace(SCORES)
  expect((await atAGlance()).version).not.toBe(after)
})

import { beforeAll, describe, expect, test } from 'vitest'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readFamilyUse } from '@/lib/store/read/family-use'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { replaceClassRates } from '@/lib/store/write/note-usage'
import { recordsOf, vehicleRow } from '../simulation/record-rows'
import { anOrganisation, NOW } from './example-records'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
let organisation: OrganisationId

const vehicles = [
  { unit: 'A', duty: 'short' as const },
  { unit: 'B', duty: 'long' as const },
  { unit: 'C', duty: 'long' as const, variant: 'early' },
  { unit: 'D', duty: 'long' as const, status: 'sold' as const },
  { unit: 'E', duty: 'mixed' as const, family: 'other-10' },
].map((vehicle) => vehicleRow({ family: 'plover-16', ...vehicle }))
const LONG = [
  { variant: 'early', vehicles: 1 },
  { variant: null, vehicles: 1 },
]
const SHORT = [{ variant: null, vehicles: 1 }]
const rate = (kmPerDay: number) => ({
  logKmPerDay: Math.log(kmPerDay),
  betweenLogSd: 0.3,
  forecastLogSd: 0.2,
})
const read = (family: string) =>
  withOrganisation(database, organisation, (scope) => readFamilyUse(scope, family))

beforeAll(async () => {
  organisation = await anOrganisation(database, 'Use')
  const entry = { now: NOW, by: null }
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, recordsOf({ vehicles }), entry),
    'write',
  )
})

describe('how the vehicles of a family are driven', () => {
  test('counts those that are driven, the most common way first; how far is not known at first', async () => {
    expect(await read('plover-16')).toEqual([
      { duty: 'long', vehicles: 2, variants: LONG, kmPerDay: null },
      { duty: 'short', vehicles: 1, variants: SHORT, kmPerDay: null },
    ])
    expect(await read('no-such')).toEqual([])
  })

  test('tells how far their class goes, or the whole fleet where it has no class', async () => {
    const rates = { fleet: rate(60), classes: new Map([['long plover-16', rate(140)]]) }
    await withOrganisation(
      database,
      organisation,
      (scope) => replaceClassRates(scope, 20_500, rates),
      'write',
    )
    expect(await read('plover-16')).toEqual([
      { duty: 'long', vehicles: 2, variants: LONG, kmPerDay: expect.closeTo(140, 9) },
      { duty: 'short', vehicles: 1, variants: SHORT, kmPerDay: expect.closeTo(60, 9) },
    ])
  })
})

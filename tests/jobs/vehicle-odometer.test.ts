import { expect, test } from 'vitest'
import { noRecords } from '@/lib/intake/tables'
import { vehicleOdometer } from '@/lib/jobs/vehicle-odometer'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { organisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { readingRow, vehicleRow } from '../records/odometer-records'
import { testDatabase } from '../store/test-database'
import { NOW, TODAY } from './demo-fleet'

const { database } = await testDatabase()

/** A reading a month for eight months, 50 km a day. */
const steady = (unit: string, fromKm: number) =>
  Array.from({ length: 8 }, (_, i) => readingRow(TODAY - 240 + 30 * i, fromKm + 1500 * i, { unit }))

/** What the misbooked reading of V1 is called, in an organisation of vehicles that start at these odometers. */
async function causesIn(name: string, starts: Record<string, number>) {
  const id = await createOrganisation(database, { name, settings: DEFAULT_SETTINGS, now: NOW })
  const organisation = organisationId(id ?? '')
  const misbooked = readingRow(TODAY - 160, 194_000, { unit: 'V1' })
  const records = {
    ...noRecords(),
    vehicles: Object.keys(starts).map((unit) => vehicleRow({ unit })),
    readings: [...Object.entries(starts).flatMap(([unit, km]) => steady(unit, km)), misbooked],
  }
  return withOrganisation(
    database,
    organisation,
    async (scope) => {
      await addRecords(scope, records, { now: NOW, by: null })
      const [own] = groupByVehicle(await readRecords(scope, ['V1']))
      const { points } = await vehicleOdometer(scope, own!, TODAY)
      return points.flatMap(({ verdict, cause }) => (verdict === 'distrusted' ? cause : []))
    },
    'write',
  )
}

test('a reading that fits the one other vehicle that stood there that day is said to be of another', async () => {
  expect(await causesIn('one', { V1: 20_000, V2: 190_000, V3: 150_000 })).toEqual(['swapped vehicle'])
})

test('where none stood there, or several did, nothing is claimed', async () => {
  expect(await causesIn('none', { V1: 20_000, V2: 191_000 })).toEqual(['unexplained'])
  expect(await causesIn('several', { V1: 20_000, V2: 190_000, V3: 190_050 })).toEqual(['unexplained'])
})

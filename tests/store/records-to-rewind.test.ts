/** What the store hands to the replay: each record with the day on which it was written down, and those that counted once. */
import { beforeAll, expect, test } from 'vitest'
import type { ReadingRow } from '@/lib/records/rows'
import { recordsAsOf } from '@/lib/replay/records-as-of'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { correctRecord } from '@/lib/store/write/correct-record'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { dayIn } from '@/lib/units/dates'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()
const ANN = '00000000-0000-7000-8000-000000000009'
const later = (days: number) => new Date(NOW.getTime() + days * 86_400_000)
const TODAY = dayIn('UTC', NOW)
const NO_RECORDS = {
  ...EXAMPLE,
  vehicles: [],
  readings: [],
  codes: [],
  checks: [],
  repairs: [],
  changes: [],
}
const VEHICLES = EXAMPLE.vehicles.map((row) => ({ ...row, watchedFromKm: null }))
const LONG_AGO = TODAY - 300

const reading = (km: number, more: Partial<ReadingRow> = {}): ReadingRow => ({
  ...EXAMPLE.readings[0]!,
  ...{ unit: 'B-10', readOn: LONG_AGO, odometerKm: km, ...more },
})

const write = <T>(organisation: OrganisationId, act: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, act, 'write')
const enter = (organisation: OrganisationId, row: ReadingRow, entry: { now: Date; by: string | null }) =>
  write(organisation, (scope) => addRecords(scope, { ...NO_RECORDS, readings: [row] }, entry))
const rewindable = (organisation: OrganisationId) =>
  withOrganisation(database, organisation, readRecordsToRewind)

async function anEmptyOne(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  await write(organisation, (scope) =>
    addRecords(scope, { ...NO_RECORDS, vehicles: VEHICLES }, { now: NOW, by: null }),
  )
  return organisation
}

/** The odometers that were known on a day. */
const kmOn = async (organisation: OrganisationId, day: number) =>
  recordsAsOf(await rewindable(organisation), day).readings.map(({ odometerKm }) => odometerKm)

beforeAll(() =>
  runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values ('${ANN}', 'Ann', 'ann@mill.example', now())`,
  ),
)

test('live records are those that are scored, whoever entered them', async () => {
  const organisation = await anOrganisation(database, 'live')
  await write(organisation, (scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }))
  const { former, ...live } = await rewindable(organisation)
  expect(live).toEqual(await withOrganisation(database, organisation, (scope) => readRecords(scope)))
  expect(Object.values(former ?? {}).flat()).toEqual([])
})

test('what a person typed was not known before; a row of a file was when it says, or on its own day', async () => {
  const organisation = await anEmptyOne('typed')
  await enter(organisation, reading(1), { now: NOW, by: ANN })
  await enter(organisation, reading(2), { now: NOW, by: null })
  await enter(organisation, reading(3, { enteredOn: LONG_AGO + 5 }), { now: NOW, by: null })
  const { readings } = await rewindable(organisation)
  expect(readings.map(({ odometerKm, enteredOn }) => [odometerKm, enteredOn])).toEqual([
    [1, TODAY],
    [2, null],
    [3, LONG_AGO + 5],
  ])
  expect(await kmOn(organisation, LONG_AGO)).toEqual([2])
  expect(await kmOn(organisation, TODAY)).toEqual([1, 2, 3])
})

test('a record that was corrected stood as it was until then; one that was withdrawn was there before', async () => {
  const organisation = await anEmptyOne('corrected')
  await enter(organisation, reading(84_210), { now: NOW, by: null })
  await enter(organisation, reading(99, { ref: 'r9' }), { now: NOW, by: null })
  const idOf = async (km: number) => {
    const all = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, 'B-10'))
    return all.find((each) => each.kind === 'readings' && each.row.odometerKm === km)!.id
  }
  const act = { kind: 'readings' as const, by: ANN }
  const corrected = { ...act, id: await idOf(84_210), now: later(10), row: reading(48_210) }
  await write(organisation, (scope) => correctRecord(scope, corrected))
  const withdrawn = { ...act, id: await idOf(99), now: later(20) }
  await write(organisation, (scope) => withdrawRecord(scope, withdrawn))

  expect((await kmOn(organisation, TODAY + 9)).sort()).toEqual([84_210, 99])
  expect((await kmOn(organisation, TODAY + 10)).sort()).toEqual([48_210, 99])
  expect(await kmOn(organisation, TODAY + 20)).toEqual([48_210])
})

test('a later file under the same key of a row takes its place from the day on which it came', async () => {
  const organisation = await anEmptyOne('same key')
  await enter(organisation, reading(1000, { ref: 'a' }), { now: NOW, by: null })
  await enter(organisation, reading(2000, { ref: 'a' }), { now: later(30), by: null })
  expect(await kmOn(organisation, TODAY + 29)).toEqual([1000])
  expect(await kmOn(organisation, TODAY + 30)).toEqual([2000])
})

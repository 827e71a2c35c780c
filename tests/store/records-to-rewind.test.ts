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
import { undoCorrection } from '@/lib/store/write/undo-correction'
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

/** Ann acts on the record of such a reading, so many days later. */
async function actOn(organisation: OrganisationId, km: number, days: number) {
  const all = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, 'B-10'))
  const { id } = all.find((each) => each.kind === 'readings' && each.row.odometerKm === km)!
  return { kind: 'readings' as const, by: ANN, id, now: later(days) }
}

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
  const corrected = { ...(await actOn(organisation, 84_210, 10)), row: reading(48_210) }
  await write(organisation, (scope) => correctRecord(scope, corrected))
  const withdrawn = await actOn(organisation, 99, 20)
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

test('a history that was brought in wrong and taken back was never there; brought in right, it stands once', async () => {
  const organisation = await anEmptyOne('wrong column')
  await enter(organisation, reading(84_210), { now: NOW, by: null })
  const withdrawn = await actOn(organisation, 84_210, 1)
  await write(organisation, (scope) => withdrawRecord(scope, withdrawn))
  await enter(organisation, reading(48_210), { now: later(2), by: null })
  expect(await kmOn(organisation, LONG_AGO)).toEqual([48_210])
  expect(await kmOn(organisation, TODAY - 1)).toEqual([48_210])
})

test('before its first version came, a row of a file stands as its latest says; one that was typed does not', async () => {
  const organisation = await anEmptyOne('latest')
  await enter(organisation, reading(1000, { ref: 'a' }), { now: NOW, by: null })
  await enter(organisation, reading(2000, { ref: 'a' }), { now: later(30), by: null })
  await enter(organisation, reading(7, { ref: 'b' }), { now: NOW, by: ANN })
  await enter(organisation, reading(8, { ref: 'b' }), { now: later(30), by: ANN })
  expect(await kmOn(organisation, LONG_AGO - 1)).toEqual([])
  expect(await kmOn(organisation, LONG_AGO)).toEqual([2000])
  expect(await kmOn(organisation, TODAY - 1)).toEqual([2000])
  expect((await kmOn(organisation, TODAY)).sort()).toEqual([1000, 7])
  expect((await kmOn(organisation, TODAY + 30)).sort()).toEqual([2000, 8])
})

test('a correction that was undone never stands beside what counts again', async () => {
  const organisation = await anEmptyOne('undone')
  await enter(organisation, reading(48_210), { now: NOW, by: null })
  const corrected = { ...(await actOn(organisation, 48_210, 10)), row: reading(84_210) }
  await write(organisation, (scope) => correctRecord(scope, corrected))
  const undone = await actOn(organisation, 84_210, 20)
  await write(organisation, (scope) => undoCorrection(scope, undone))
  for (const day of [LONG_AGO, TODAY, TODAY + 15, TODAY + 25])
    expect(await kmOn(organisation, day)).toEqual([48_210])
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ReadingRow, Records } from '@/lib/records/rows'
import { recordsAsOf } from '@/lib/replay/records-as-of'
import { readMergedInto } from '@/lib/store/read/merged-into'
import { readMergedVehicles } from '@/lib/store/read/merged-vehicles'
import { readRecords } from '@/lib/store/read/records'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { readRepairNow } from '@/lib/store/read/repair-now'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { mergeVehicles } from '@/lib/store/write/merge-vehicles'
import { partVehicles } from '@/lib/store/write/part-vehicles'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { dayIn } from '@/lib/units/dates'
import { runs } from '../runs'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()
const ANN = '00000000-0000-7000-8000-0000000000aa'
await runSql(
  adminUrl,
  `insert into people (id, name, email, updated_at) values ('${ANN}', 'Ann', 'ann@mill.example', now())`,
)

const DAY_MS = 86_400_000
const later = (days: number) => new Date(NOW.getTime() + days * DAY_MS)
const NOTHING = { vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] }
const merge = { unit: 'B-10', other: 'B-2', facts: {}, now: later(10), by: ANN }
const parting = { unit: 'B-10', other: 'B-2', mergedAt: later(10), now: later(20), by: ANN }

/** Two vehicles with records, and what is asked of them. */
async function withTwo(name: string, records: Omit<Records, 'settings'> = EXAMPLE) {
  const organisation = await anOrganisation(database, name)
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await write((scope) => addRecords(scope, records, { now: NOW, by: null }))
  return { write, records: () => write((scope) => readRecords(scope)) }
}

const reading = (unit: string, odometerKm: number, ref: string | null = null): ReadingRow => ({
  ...EXAMPLE.readings[0]!,
  ...{ unit, odometerKm, ref },
})
const moved = ({ settings: _, ...lists }: Records, kind: keyof Omit<Records, 'settings'>) =>
  (lists[kind] as { unit: string }[]).map((row) => ({ ...row, unit: 'B-10' }))

test('records of the other move, in their order, and it is gone; parted, all is as it was', async () => {
  const { write, records } = await withTwo('merge')
  const before = await records()
  const merged = await write((scope) => mergeVehicles(scope, { ...merge, facts: { plate: 'ZZ 9' } }))
  const own = EXAMPLE.readings.filter(({ unit }) => unit === 'B-2').length
  expect(merged).toMatchObject({ ok: true, touched: ['B-10'], twice: 0 })
  const after = await records()
  expect(after.vehicles).toEqual([{ ...before.vehicles[0], plate: 'ZZ 9' }])
  for (const kind of ['readings', 'codes', 'checks', 'repairs', 'changes'] as const)
    expect(after[kind]).toEqual(moved(before, kind))
  expect(own).toBeGreaterThan(0)
  // Nothing is overwritten: the other's versions are there, superseded.
  const kept = await write((scope) => readVehicleRecords(scope, 'B-2'))
  expect(new Set(kept.map(({ state }) => state))).toEqual(new Set(['superseded']))
  expect(await write((scope) => readMergedVehicles(scope, 'B-10'))).toEqual([
    { other: 'B-2', mergedAt: later(10), by: ANN },
  ])

  expect(await write((scope) => partVehicles(scope, parting))).toEqual({
    ...{ ok: true, touched: ['B-10', 'B-2'], stay: 0, factsStay: false },
  })
  expect(await records()).toEqual(before)
  expect(await write((scope) => readMergedVehicles(scope, 'B-10'))).toEqual([])
})

test('what both have counts once, a ref moves along, and a file that names the other again adds no record', async () => {
  const readings = [reading('B-10', 1), reading('B-2', 1), reading('B-2', 2, 'mine')]
  const { write, records } = await withTwo('twice', {
    ...EXAMPLE,
    ...NOTHING,
    vehicles: EXAMPLE.vehicles,
    readings,
  })
  const before = await records()
  expect(await write((scope) => mergeVehicles(scope, merge))).toMatchObject({ moved: 1, twice: 1 })
  const merged = (await records()).readings
  expect(merged).toEqual([reading('B-10', 1), reading('B-10', 2, 'mine')])
  await write((scope) => addRecords(scope, { ...NOTHING, readings }, { now: later(11), by: null }))
  expect((await records()).readings).toEqual(merged)
  await write((scope) => partVehicles(scope, parting))
  expect(await records()).toEqual(before)
})

test('what was changed since the merge stays, and is counted', async () => {
  const readings = [reading('B-2', 1), reading('B-2', 2)]
  const { write, records } = await withTwo('since', { ...NOTHING, vehicles: EXAMPLE.vehicles, readings })
  await write((scope) => mergeVehicles(scope, merge))
  const [first] = await write((scope) => readVehicleRecords(scope, 'B-10'))
  await write((scope) =>
    withdrawRecord(scope, { kind: 'readings', id: `${first?.id}`, now: later(11), by: ANN }),
  )
  await write((scope) =>
    changeVehicle(scope, { unit: 'B-10', facts: { site: 'New' }, now: later(12), by: ANN }),
  )
  expect(await write((scope) => partVehicles(scope, parting))).toMatchObject({ stay: 1, factsStay: true })
  const after = await records()
  expect(after.readings).toEqual([reading('B-2', 2)])
  expect(after.vehicles.map(({ unit, site }) => [unit, site])).toEqual([
    ['B-10', 'New'],
    ['B-2', EXAMPLE.vehicles[1]?.site],
  ])
  expect(await write((scope) => partVehicles(scope, parting))).toEqual({ ok: false, reason: 'not-found' })
})

test('on a day before the merge a vehicle is known by its own records alone', async () => {
  const { write } = await withTwo('rewound', { ...NOTHING, vehicles: EXAMPLE.vehicles })
  const typed = { ...NOTHING, readings: [reading('B-10', 1), reading('B-2', 2)] }
  await write((scope) => addRecords(scope, typed, { now: NOW, by: ANN }))
  await write((scope) => mergeVehicles(scope, merge))
  const rewound = await write((scope) => readRecordsToRewind(scope))
  const kmOn = (days: number) =>
    recordsAsOf(rewound, dayIn('UTC', later(days)))
      .readings.filter(({ unit }) => unit === 'B-10')
      .map(({ odometerKm }) => odometerKm)
      .sort()
  expect(kmOn(5)).toEqual([1])
  expect(kmOn(12)).toEqual([1, 2])
})

test('neither the same vehicle nor one that is not there is merged; nor one that must not be driven', async () => {
  const { write, records } = await withTwo('refused')
  const before = await records()
  const refused = (change: object) => write((scope) => mergeVehicles(scope, { ...merge, ...change }))
  expect(await refused({ other: 'B-10' })).toEqual({ ok: false, reason: 'not-found' })
  expect(await refused({ other: 'B-99' })).toEqual({ ok: false, reason: 'not-found' })
  await write(
    ({ tx, organisation }) => tx.$executeRaw`
    insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
    select ${organisation}::uuid, gen_random_uuid(), id, 'injector', 1, ${NOW}, 'advised' from vehicles
    where unit = 'B-2'`,
  )
  expect(await refused({})).toEqual({ ok: false, reason: 'open-stop' })
  expect(await records()).toEqual(before)
})

test('another organisation’s vehicles of the same numbers are left alone', async () => {
  const [ours, theirs] = [await withTwo('our two'), await withTwo('their two')]
  const before = await theirs.records()
  await ours.write((scope) => mergeVehicles(scope, merge))
  expect(await theirs.write((scope) => partVehicles(scope, parting))).toEqual({
    ...{ ok: false, reason: 'not-found' },
  })
  expect(await theirs.records()).toEqual(before)
})

const kms = fc.array(fc.constantFrom(1, 2, 3, 4), { maxLength: 5 })
test('merged, the readings are the union of both; parted, they are what each had', {
  timeout: 120_000,
}, async () => {
  let at = 0
  await fc.assert(
    fc.asyncProperty(kms, kms, async (own, its) => {
      const readings = [...own.map((km) => reading('B-10', km)), ...its.map((km) => reading('B-2', km))]
      const { write, records } = await withTwo(`union ${at++}`, {
        ...{ ...NOTHING, vehicles: EXAMPLE.vehicles, readings },
      })
      const before = await records()
      await write((scope) => mergeVehicles(scope, merge))
      const union = new Set([...own, ...its])
      const merged = (await records()).readings
      expect(merged.map(({ odometerKm }) => odometerKm).sort()).toEqual([...union].sort())
      await write((scope) => partVehicles(scope, parting))
      expect(await records()).toEqual(before)
    }),
    { numRuns: runs(15) },
  )
})

test('the number that is gone leads to the one it was made one with, and the versions of a repair to the one that counts', async () => {
  const { write } = await withTwo('led on')
  const into = (unit: string) => write((scope) => readMergedInto(scope, unit))
  const repairs = () =>
    write((scope) => readVehicleRecords(scope, 'B-2')).then((all) =>
      all.filter(({ kind }) => kind === 'repairs'),
    )
  expect([await into('B-2'), await into('nobody')]).toEqual([null, null])
  await write((scope) =>
    addRecords(
      scope,
      { ...NOTHING, repairs: [{ ...EXAMPLE.repairs[0]!, unit: 'B-2', ref: 'led' }] },
      { now: NOW, by: null },
    ),
  )
  const id = (await repairs()).find(({ row }) => row.ref === 'led')!.id
  const now = () => write((scope) => readRepairNow(scope, id))
  expect(await now()).toEqual({ id, unit: 'B-2' })
  await write((scope) => mergeVehicles(scope, merge))
  expect(await into('B-2')).toBe('B-10')
  const moved = await now()
  expect([moved?.unit, moved?.id === id]).toEqual(['B-10', false])
  await write((scope) => withdrawRecord(scope, { kind: 'repairs', id: moved!.id, now: later(11), by: ANN }))
  expect(await now()).toBeNull()
  expect(await write((scope) => readRepairNow(scope, 'no id at all'))).toBeNull()
  expect(await into('B-10')).toBeNull()
})

test('a number whose vehicle was made one with another twice over leads to the one that is there', async () => {
  const vehicles = [...EXAMPLE.vehicles, { ...EXAMPLE.vehicles[0]!, unit: 'B-30' }]
  const { write } = await withTwo('led on twice', { ...NOTHING, vehicles })
  const into = (unit: string) => write((scope) => readMergedInto(scope, unit))
  await write((scope) => mergeVehicles(scope, merge))
  await write((scope) => mergeVehicles(scope, { ...merge, unit: 'B-30', other: 'B-10', now: later(12) }))
  expect([await into('B-2'), await into('B-10'), await into('B-30')]).toEqual(['B-30', 'B-30', null])
})

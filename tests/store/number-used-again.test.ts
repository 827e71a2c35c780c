import { expect, test } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { readRecords } from '@/lib/store/read/records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { passOnNumber, takeNumberBack } from '@/lib/store/write/pass-on-number'
import { parseDay } from '@/lib/units/dates'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()
const ANN = '00000000-0000-7000-8000-0000000000aa'
await runSql(
  adminUrl,
  `insert into people (id, name, email, updated_at) values ('${ANN}', 'Ann', 'ann@mill.example', now())`,
)

const TODAY = parseDay('2026-03-01')!
const SOLD_ON = parseDay('2026-02-14')!
const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000)
const [VEHICLE] = EXAMPLE.vehicles
const [READING] = EXAMPLE.readings
const NEW: Omit<Records, 'settings'> = {
  vehicles: [{ ...VEHICLE!, plate: 'NEW 1', builtOn: null, inServiceOn: null }],
  readings: [{ ...READING!, readOn: TODAY, odometerKm: 77 }],
  ...{ codes: [], checks: [], repairs: [], changes: [] },
}
const passing = { unit: 'B-10', records: NEW, today: TODAY, now: later(2), by: ANN }
const given = { unit: 'B-10', passedOnAt: later(2), by: ANN }
const FORMER = 'B-10 (until 2026-02-14)'

/** An organisation with the example, one vehicle of it sold. */
async function withSold(name: string, facts: object = { status: 'sold', soldOn: SOLD_ON }) {
  const organisation = await anOrganisation(database, name)
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await write((scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }))
  await write((scope) => changeVehicle(scope, { unit: 'B-10', facts, now: later(1), by: ANN }))
  return { write, records: () => write((scope) => readRecords(scope)) }
}

const ofUnit = ({ settings: _, ...lists }: Records, unit: string) =>
  Object.values(lists).flatMap((rows: { unit: string }[]) =>
    rows.filter((row) => row.unit === unit).map((row) => ({ ...row, unit: '' })),
  )

test('the number goes to the new vehicle, the one before keeps its records under another; undone, all is as it was', async () => {
  const { write, records } = await withSold('again')
  const before = await records()
  const passed = await write((scope) => passOnNumber(scope, passing))
  expect(passed).toEqual({ ok: true, touched: ['B-10', FORMER], former: FORMER })
  const after = await records()
  expect(ofUnit(after, FORMER)).toEqual(ofUnit(before, 'B-10'))
  expect(ofUnit(after, 'B-2')).toEqual(ofUnit(before, 'B-2'))
  expect(after.vehicles.find(({ unit }) => unit === 'B-10')).toMatchObject({ plate: 'NEW 1' })
  expect(after.readings.filter(({ unit }) => unit === 'B-10')).toMatchObject([{ odometerKm: 77 }])

  const back = await write((scope) => takeNumberBack(scope, given, later(3)))
  expect(back).toEqual({ ok: true, touched: ['B-10'], former: FORMER })
  expect(await records()).toEqual(before)
  // And once more: what was taken back is in nobody's way.
  const again = { ...passing, now: later(4) }
  expect(await write((scope) => passOnNumber(scope, again))).toMatchObject({ ok: true, former: FORMER })
})

test('a file that brings the earlier vehicle’s records in again gives them to neither', async () => {
  const { write, records } = await withSold('same file')
  await write((scope) => passOnNumber(scope, passing))
  const before = await records()
  const again = await write((scope) =>
    addRecords(scope, { ...EXAMPLE, vehicles: [] }, { now: later(3), by: null }),
  )
  expect(again.touched).toEqual([])
  expect(await records()).toEqual(before)
})

test('a number that was used before keeps both earlier vehicles apart; without a day its last record tells', async () => {
  const { write } = await withSold('twice')
  const pass = (minutes: number) => write((scope) => passOnNumber(scope, { ...passing, now: later(minutes) }))
  await pass(2)
  const sell = (facts: object, minutes: number) =>
    write((scope) => changeVehicle(scope, { unit: 'B-10', facts, now: later(minutes), by: ANN }))
  await sell({ status: 'retired', leftOn: SOLD_ON }, 3)
  expect(await pass(4)).toMatchObject({ ok: true, former: `${FORMER} 2` })
  await sell({ status: 'retired' }, 5)
  expect(await pass(6)).toMatchObject({ ok: true, former: 'B-10 (until 2026-03-01)' })
})

test('a vehicle that is there keeps its number, and what has been recorded since is not undone', async () => {
  const { write } = await withSold('kept')
  expect(await write((scope) => passOnNumber(scope, { ...passing, unit: 'B-2' }))).toEqual({
    ...{ ok: false, reason: 'not-gone' },
  })
  expect(await write((scope) => passOnNumber(scope, { ...passing, unit: 'B-99' }))).toEqual({
    ...{ ok: false, reason: 'not-found' },
  })
  await write((scope) => passOnNumber(scope, passing))
  expect(await write((scope) => takeNumberBack(scope, { ...given, passedOnAt: later(9) }, later(9)))).toEqual(
    {
      ...{ ok: false, reason: 'not-found' },
    },
  )
  const reading = { ...NEW.readings[0]!, odometerKm: 78 }
  await write((scope) =>
    addRecords(scope, { ...NEW, vehicles: [], readings: [reading] }, { now: later(3), by: ANN }),
  )
  expect(await write((scope) => takeNumberBack(scope, given, later(4)))).toEqual({
    ...{ ok: false, reason: 'changed-since' },
  })
})

test('another organisation’s vehicle of the same number keeps it', async () => {
  const [ours, theirs] = [await withSold('ours again'), await withSold('theirs')]
  const before = await theirs.records()
  await ours.write((scope) => passOnNumber(scope, passing))
  expect(await theirs.records()).toEqual(before)
  expect(await theirs.write((scope) => takeNumberBack(scope, given, later(3)))).toMatchObject({ ok: false })
  expect(await theirs.records()).toEqual(before)
})

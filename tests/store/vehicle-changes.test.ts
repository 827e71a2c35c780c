import { expect, test } from 'vitest'
import type { ChangeRow } from '@/lib/records/rows'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { undoVehicleChange } from '@/lib/store/write/undo-vehicle-change'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()
const ANN = '00000000-0000-7000-8000-0000000000aa'
const BEN = '00000000-0000-7000-8000-0000000000bb'
await runSql(
  adminUrl,
  `insert into people (id, name, email, updated_at) values ('${ANN}', 'Ann', 'ann@mill.example', now()),
    ('${BEN}', 'Ben', 'ben@mill.example', now())`,
)

const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000)
const OWNER: ChangeRow = {
  ...{ unit: 'B-10', on: 20_500, kind: 'owner', odometerKm: null, engineKm: null, offsetKm: null },
  ...{ ref: null, enteredOn: null, notes: {}, line: 1 },
}

/** An organisation with the example, and what is asked of it. */
async function withExample(name: string) {
  const organisation = await anOrganisation(database, name)
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await write((scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }))
  const rows = () => write((scope) => readVehicleRows(scope, { after: null, limit: 9 }))
  const row = async (unit: string) => (await rows()).vehicles.find((vehicle) => vehicle.unit === unit)
  const changes = () => write((scope) => readRecordsToRewind(scope)).then((records) => records.changes)
  const version = () =>
    write(
      ({ tx }) => tx.$queryRaw<{ version: number }[]>`
      select records_version::int as version from vehicles where unit = 'B-10'`,
    ).then(([one]) => one?.version)
  return { organisation, write, row, changes, version }
}

test('a new owner takes the place of the one before with the way to reach them; undone, all is as it was', async () => {
  const { write, row, changes, version } = await withExample('owner')
  const [before, entered] = [await row('B-10'), await changes()]
  const facts = { customer: 'New', contact: null }
  await write((scope) =>
    changeVehicle(scope, { unit: 'B-10', facts: { contact: 'old@post' }, now: NOW, by: null }),
  )
  const untouched = await version()
  const act = { unit: 'B-10', facts, changes: [OWNER], now: later(1), by: ANN }
  expect(await write((scope) => changeVehicle(scope, act))).toEqual({ ok: true, touched: ['B-10'] })
  expect(await row('B-10')).toEqual({ ...before, ...facts })
  expect(await version()).toBe(Number(untouched) + 1)
  expect(await changes()).toHaveLength(entered.length + 1)
  // What stood is kept, and not on any page: the head knows the new owner alone.
  expect(await write((scope) => readVehicleHead(scope, 'B-10', 90))).toMatchObject(facts)

  const made = { unit: 'B-10', changedAt: later(1), by: ANN }
  expect(await write((scope) => undoVehicleChange(scope, made, later(2)))).toMatchObject({ ok: true })
  expect(await row('B-10')).toEqual({ ...before, contact: 'old@post' })
  expect(await changes()).toEqual(entered)
  const records = await write((scope) => readVehicleRecords(scope, 'B-10'))
  expect(records.find(({ kind, row }) => kind === 'changes' && row.kind === 'owner')?.state).toBe('withdrawn')
})

test('a fact is set and unset; the same again changes nothing; no such vehicle is said', async () => {
  const { write, row, version } = await withExample('facts')
  const sold = { status: 'sold', leftOn: 20_400, soldOn: 20_400, coverUntilOn: null } as const
  const change = (facts: object, unit = 'B-10', now = later(1)) =>
    write((scope) => changeVehicle(scope, { unit, facts, now, by: ANN }))
  expect(await change(sold)).toEqual({ ok: true, touched: ['B-10'] })
  expect(await row('B-10')).toMatchObject(sold)
  const stands = await version()
  expect(await change(sold)).toEqual({ ok: true, touched: [] })
  expect(await version()).toBe(stands)
  const back = { status: 'active', leftOn: null, soldOn: null }
  await change(back, 'B-10', later(2))
  expect(await row('B-10')).toMatchObject(back)
  expect(await change(sold, 'B-99')).toEqual({ ok: false, reason: 'not-found' })
})

test('a change is undone only by who made it, and not over what came after it', async () => {
  const { write, row } = await withExample('undo')
  const change = (site: string, minutes: number) =>
    write((scope) => changeVehicle(scope, { unit: 'B-10', facts: { site }, now: later(minutes), by: ANN }))
  await change('One', 1)
  await change('Two', 2)
  const undo = (minutes: number, by: string) =>
    write((scope) => undoVehicleChange(scope, { unit: 'B-10', changedAt: later(minutes), by }, later(9)))
  expect(await undo(1, ANN)).toEqual({ ok: false, reason: 'changed-since' })
  expect(await undo(2, BEN)).toEqual({ ok: true, touched: [] })
  expect((await row('B-10'))?.site).toBe('Two')
  expect(await undo(2, ANN)).toEqual({ ok: true, touched: ['B-10'] })
  expect((await row('B-10'))?.site).toBe('One')
})

test('another organisation’s vehicle of the same number is left alone', async () => {
  const [ours, theirs] = [await withExample('ours'), await withExample('theirs')]
  const before = await theirs.row('B-10')
  const facts = { customer: 'New', contact: null }
  const act = { unit: 'B-10', facts, changes: [OWNER], now: later(1), by: ANN }
  await ours.write((scope) => changeVehicle(scope, act))
  expect(await theirs.row('B-10')).toEqual(before)
  const made = { unit: 'B-10', changedAt: later(1), by: ANN }
  expect(await theirs.write((scope) => undoVehicleChange(scope, made, later(2)))).toEqual({
    ...{ ok: true, touched: [] },
  })
  expect(await ours.row('B-10')).toMatchObject(facts)
})

test('a file that names another customer and no contact does not leave the earlier one’s', async () => {
  const { write, row } = await withExample('file')
  const [vehicle] = EXAMPLE.vehicles
  const bring = (cells: object, minutes: number) =>
    write((scope) =>
      addRecords(
        scope,
        {
          ...EXAMPLE,
          vehicles: [{ ...vehicle!, ...cells }],
          readings: [],
          codes: [],
          checks: [],
          repairs: [],
          changes: [],
        },
        { now: later(minutes), by: null },
      ),
    )
  await bring({ customer: 'Old', contact: 'old@post' }, 1)
  await bring({ customer: null, contact: null, site: 'Yard' }, 2)
  expect(await row('B-10')).toMatchObject({ customer: 'Old', contact: 'old@post' })
  await bring({ customer: 'Old', contact: null, site: 'Shed' }, 3)
  expect(await row('B-10')).toMatchObject({ customer: 'Old', contact: 'old@post' })
  await bring({ customer: 'New', contact: null }, 4)
  expect(await row('B-10')).toMatchObject({ customer: 'New', contact: null })
})

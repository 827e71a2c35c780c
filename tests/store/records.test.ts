import { expect, test } from 'vitest'
import type { Records, VehicleRow } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '@/lib/store/entry'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type AddedRecords, addRecords } from '@/lib/store/write/add-records'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()

const NONE = { vehicles: 0, readings: 0, codes: 0, checks: 0, repairs: 0, changes: 0 }

const outcomes = ({ counts }: AddedRecords, outcome: keyof EntryCounts) =>
  Object.fromEntries(Object.entries(counts).map(([kind, each]) => [kind, each[outcome]]))

test('records come back as they went in, in the order of first arrival', async () => {
  const organisation = await anOrganisation(database, 'round trip')
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }),
    'write',
  )
  expect(await withOrganisation(database, organisation, (scope) => readRecords(scope))).toEqual(EXAMPLE)
})

test('what is there already counts once, and what is new beside it goes in', async () => {
  const organisation = await anOrganisation(database, 'twice')
  const add = (records: typeof EXAMPLE) =>
    withOrganisation(
      database,
      organisation,
      (scope) => addRecords(scope, records, { now: NOW, by: null }),
      'write',
    )
  const first = await add(EXAMPLE)
  expect(outcomes(first, 'accepted')).toEqual({
    ...NONE,
    vehicles: 2,
    readings: 3,
    codes: 2,
    checks: 2,
    repairs: 2,
    changes: 1,
  })
  expect(first.touched.sort()).toEqual(['B-10', 'B-2'])
  const again = { ...EXAMPLE, readings: EXAMPLE.readings.map((row) => ({ ...row, line: row.line + 5 })) }
  const second = await add(again)
  expect(outcomes(second, 'accepted')).toEqual(NONE)
  expect(outcomes(second, 'unchanged')).toEqual(outcomes(first, 'accepted'))
  expect(second.touched).toEqual([])
  const [reading] = EXAMPLE.readings
  const another = { ...EXAMPLE, readings: [...EXAMPLE.readings, { ...reading!, odometerKm: 9 }] }
  expect(await add(another)).toMatchObject({
    counts: { readings: { accepted: 1, unchanged: 3, superseded: 0 } },
    touched: ['B-10'],
  })
})

test('a withdrawn record is not read, and may be brought in again', async () => {
  const organisation = await anOrganisation(database, 'withdrawn')
  const add = () =>
    withOrganisation(
      database,
      organisation,
      (scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }),
      'write',
    )
  await add()
  const withdrawn = await withOrganisation(
    database,
    organisation,
    ({ tx }) => tx.$executeRaw`update readings set withdrawn_at = ${NOW} where odometer_km = 5`,
    'write',
  )
  expect(withdrawn).toBe(1)
  const { readings } = await withOrganisation(database, organisation, (scope) => readRecords(scope))
  expect(readings.map((row) => row.odometerKm)).toEqual([0.1 + 0.2, 1e7])
  expect((await add()).counts.readings).toEqual({ accepted: 1, unchanged: 2, superseded: 0 })
})

test('a failure half way keeps nothing of it', async () => {
  const organisation = await anOrganisation(database, 'half way')
  const act = withOrganisation(
    database,
    organisation,
    async (scope) => {
      await addRecords(scope, EXAMPLE, { now: NOW, by: null })
      throw new Error('the power fails')
    },
    'write',
  )
  await expect(act).rejects.toThrow('the power fails')
  const { vehicles } = await withOrganisation(database, organisation, (scope) => readRecords(scope))
  expect(vehicles).toEqual([])
})

test('ids are UUIDs of version 7, which grow with time', async () => {
  const rows = await runSql(adminUrl, 'select id::text from readings union all select id::text from vehicles')
  expect(rows.length).toBeGreaterThan(10)
  for (const { id } of rows)
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
  const time = Number.parseInt(String(rows[0]?.id).replaceAll('-', '').slice(0, 12), 16)
  expect(time).toBe(NOW.getTime())
})

test('ten thousand readings of one vehicle come back in order', async () => {
  const organisation = await anOrganisation(database, 'many')
  const [first] = EXAMPLE.readings
  const readings = Array.from({ length: 10_001 }, (_, i) => ({
    ...first!,
    readOn: i,
    odometerKm: i * 1.1,
    line: i,
  }))
  const records = { ...EXAMPLE, readings }
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now: NOW, by: null }),
    'write',
  )
  expect((await withOrganisation(database, organisation, (scope) => readRecords(scope))).readings).toEqual(
    readings,
  )
})

test('a vehicle in a later file takes over the cells that are given; blank ones leave what stands, which is kept as a version', async () => {
  const organisation = await anOrganisation(database, 'later file')
  const add = (vehicles: VehicleRow[], defaulted?: Entry['defaulted']) =>
    withOrganisation(
      database,
      organisation,
      (scope) => addRecords(scope, { ...EXAMPLE, vehicles }, { now: NOW, by: null, defaulted }),
      'write',
    )
  await add(EXAMPLE.vehicles)
  const [vehicle] = EXAMPLE.vehicles
  const blank: VehicleRow = {
    ...vehicle!,
    plate: null,
    site: 'New Yard',
    status: 'active',
    duty: 'mixed',
    notes: { colour: 'red' },
  }
  const later = await add([{ ...blank, line: 9 }], new Map([['B-10', new Set(['duty'])]]))
  expect(later).toMatchObject({
    counts: { vehicles: { accepted: 0, unchanged: 0, superseded: 1 } },
    touched: ['B-10'],
  })

  const { vehicles } = await withOrganisation(database, organisation, (scope) => readRecords(scope, ['B-10']))
  expect(vehicles).toEqual([
    { ...vehicle!, site: 'New Yard', notes: { ...vehicle!.notes, colour: 'red' }, line: 9 },
  ])
  const versions = await withOrganisation(
    database,
    organisation,
    ({ tx }) => tx.$queryRaw`select before from vehicle_versions`,
  )
  expect(versions).toEqual([{ before: vehicle }])
  expect((await add([{ ...blank, line: 2 }], new Map([['B-10', new Set(['duty'])]]))).touched).toEqual([])
})

test('the same ref takes the place of the earlier row, whatever vehicle it names', async () => {
  const organisation = await anOrganisation(database, 'refs')
  const add = (readings: Records['readings']) =>
    withOrganisation(
      database,
      organisation,
      (scope) => addRecords(scope, { ...EXAMPLE, readings }, { now: NOW, by: null }),
      'write',
    )
  const [reading] = EXAMPLE.readings
  const first = { ...reading!, ref: 'a', odometerKm: 100 }
  const second = { ...reading!, odometerKm: 200 }
  await add([first, second])
  const moved = { ...first, unit: 'B-2', odometerKm: 150 }
  expect(await add([moved])).toMatchObject({
    counts: { readings: { accepted: 0, unchanged: 0, superseded: 1 } },
    touched: expect.arrayContaining(['B-10', 'B-2']),
  })
  const { readings } = await withOrganisation(database, organisation, (scope) => readRecords(scope))
  expect(readings).toEqual([moved, second])
  expect((await add([moved])).touched).toEqual([])
})

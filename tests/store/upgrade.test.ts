import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { Client } from 'pg'
import { expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { migrate, underMigrationLock } from '@/lib/store/inner/migrate'
import { organisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { prepareDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { EXAMPLE } from './example-records'
import { runSql } from './test-database'

const FIRST = '20261125000000_first'
const ORGANISATION = '019ca000-0000-7000-8000-000000000001'
const VEHICLE = '019ca000-0000-7000-8000-000000000002'

/** Brings a database to where the first version of the product left it. */
async function migrateFirst(adminUrl: string): Promise<void> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-first-'))
  fs.cpSync(path.join('prisma/migrations', FIRST), path.join(folder, FIRST), { recursive: true })
  const client = new Client(adminUrl)
  await client.connect()
  try {
    await underMigrationLock(client, () => migrate(client, folder))
  } finally {
    await client.end()
    fs.rmSync(folder, { recursive: true })
  }
}

const reading = (n: number, ref: string | null, km: number) => `insert into readings
  (organisation_id, id, vehicle_id, read_on, odometer_km, ref, entered_at, notes, line, content_hash)
  values ('${ORGANISATION}', '019ca000-0000-7000-8000-00000000001${n}', '${VEHICLE}', '2026-02-01', ${km},
    ${ref === null ? 'null' : `'${ref}'`}, '2026-02-0${n}', '{}', 2, 'hash ${n}')`

test('an installation of the first version keeps its records; of one `ref` the last holds, in the place of the first', async () => {
  const server = inject('adminUrl')
  await runSql(
    server,
    'drop database if exists gudgeon_upgraded with (force)',
    'create database gudgeon_upgraded',
  )
  const adminUrl = server.replace(/\/[^/?]*(\?|$)/, '/gudgeon_upgraded$1')
  await migrateFirst(adminUrl)
  await runSql(
    adminUrl,
    `insert into organisations values ('${ORGANISATION}', 'Old', '${JSON.stringify(EXAMPLE.settings)}', now())`,
    `insert into libraries values ('${ORGANISATION}', '${VEHICLE}', 1, '{}', 'hash', true, now())`,
    `insert into vehicles (organisation_id, id, unit, status, family, history, duty, entered_at, notes, line)
     values ('${ORGANISATION}', '${VEHICLE}', 'B-10', 'active', 'plover-16', 'full', 'mixed', now(), '{}', 2)`,
    reading(1, 'r1', 100),
    reading(2, null, 200),
    reading(3, 'r1', 300),
    reading(4, 'r2', 400),
    reading(5, 'r1', 500),
  )

  const database = await openDatabase(await prepareDatabase(adminUrl), { kind: 'command', name: 'test' })
  const { readings, vehicles } = await withOrganisation(database, organisationId(ORGANISATION), (scope) =>
    readRecords(scope),
  )
  await database.$disconnect()
  expect(vehicles.map(({ unit }) => unit)).toEqual(['B-10'])
  expect(readings.map(({ odometerKm }) => odometerKm)).toEqual([500, 200, 400])
  const chain = await runSql(
    adminUrl,
    `select odometer_km as km, right(supersedes_id::text, 1) as over, right(superseded_by::text, 1) as by,
       extract(day from superseded_at)::int as at
     from readings where ref = 'r1' order by id`,
  )
  expect(chain).toEqual([
    { km: 100, over: null, by: '3', at: 3 },
    { km: 300, over: '1', by: '5', at: 5 },
    { km: 500, over: '3', by: null, at: null },
  ])
  await runSql(server, 'drop database gudgeon_upgraded with (force)')
})

import { expect, test } from 'vitest'
import { lookAtFilledTables } from '@/lib/store/write/look-at-filled-tables'
import { runSql, testDatabase } from './test-database'

const { adminUrl, database } = await testDatabase()

const known = async (table: string) =>
  (await runSql(adminUrl, `select reltuples::int as rows from pg_class where relname = '${table}'`))[0]?.rows

/** By the server itself only now and then: not while this runs. */
const make = (table: string) =>
  runSql(
    adminUrl,
    `create table ${table} (n int) with (autovacuum_enabled = off)`,
    `insert into ${table} select generate_series(1, 500)`,
  )

test('of a table that was filled a moment ago the server knows how much is in it, and asks once', async () => {
  await make('filled')
  expect(await known('filled')).toBe(-1)
  expect(await lookAtFilledTables(database)).toBeGreaterThan(0)
  expect(await known('filled')).toBe(500)

  await runSql(adminUrl, 'insert into filled values (0)')
  await lookAtFilledTables(database)
  expect(await lookAtFilledTables(database)).toBe(0)
  expect(await known('filled')).toBe(500) // what it knows of, it keeps up to date by itself
})

test('a table that was empty when it was looked at is looked at again', async () => {
  await make('empty')
  await runSql(adminUrl, 'truncate empty', 'analyze empty', 'insert into empty values (1), (2)')
  await lookAtFilledTables(database)
  expect(await known('empty')).toBe(2)
})

test('a table that has come to hold far more than when it was looked at is looked at again', async () => {
  await make('grown')
  await lookAtFilledTables(database)
  await runSql(adminUrl, 'insert into grown select generate_series(1, 1000)')
  expect(await lookAtFilledTables(database)).toBe(0)
  await runSql(adminUrl, 'insert into grown select generate_series(1, 1000)')
  expect(await lookAtFilledTables(database)).toBe(1)
  expect(await known('grown')).toBe(2500)
})

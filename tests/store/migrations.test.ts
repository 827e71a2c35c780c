import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { Client } from 'pg'
import { afterAll, expect, test } from 'vitest'
import { migrate, underMigrationLock } from '@/lib/store/inner/migrate'
import { runSql, testDatabase } from './test-database'

const { adminUrl } = await testDatabase()

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-migrations-'))
afterAll(() => fs.rmSync(folder, { recursive: true }))

function writeMigration(name: string, sql: string): void {
  fs.mkdirSync(path.join(folder, name), { recursive: true })
  fs.writeFileSync(path.join(folder, name, 'migration.sql'), sql)
}

async function migrateNow(): Promise<string[]> {
  const client = new Client(adminUrl)
  await client.connect()
  try {
    return await underMigrationLock(client, () => migrate(client, folder))
  } finally {
    await client.end()
  }
}

function prisma(args: string[], env: Record<string, string>) {
  return spawnSync(process.execPath, ['node_modules/prisma/build/index.js', ...args], {
    env: { ...process.env, ...env },
    encoding: 'utf8',
  })
}

test('schema.prisma agrees with the SQL of the migrations', () => {
  const from = ['--from-migrations', 'prisma/migrations', '--to-schema', 'prisma/schema.prisma']
  const { status, stdout } = prisma(['migrate', 'diff', ...from, '--exit-code'], {
    SCHEMA_ENGINE_MEMORY: '1',
  })
  expect(stdout).toContain('No difference detected')
  expect(status).toBe(0)
})

test('Prisma itself finds a database that we migrated up to date', () => {
  const { stdout } = prisma(['migrate', 'status'], { DATABASE_URL: adminUrl })
  expect(stdout).toContain('Database schema is up to date!')
})

test('migrations run once, in order; a changed or a failing one is named and leaves nothing', async () => {
  await runSql(adminUrl, 'delete from _prisma_migrations')
  writeMigration('2_second', 'insert into first values (2)')
  writeMigration('1_first', 'create table first (id int primary key)')
  expect(await migrateNow()).toEqual(['1_first', '2_second'])
  expect(await migrateNow()).toEqual([])

  writeMigration('3_third', 'insert into first values (3); insert into first values (2)')
  await expect(migrateNow()).rejects.toThrow(/Migration 3_third: duplicate key/)
  expect(await runSql(adminUrl, 'select id from first')).toEqual([{ id: 2 }])

  writeMigration('3_third', 'insert into first values (3)')
  expect(await migrateNow()).toEqual(['3_third'])
  writeMigration('1_first', 'create table first (id bigint primary key)')
  await expect(migrateNow()).rejects.toThrow('Migration 1_first was changed after it had been applied')
})

test('two that start at once migrate once', async () => {
  writeMigration('1_first', 'create table first (id int primary key)')
  writeMigration('4_fourth', 'select pg_sleep(0.2); insert into first values (4)')
  const done = await Promise.all([migrateNow(), migrateNow()])
  expect(done.flat()).toEqual(['4_fourth'])
})

import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type EmbeddedServer, startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { productUrl } from '@/lib/store/inner/product-role'
import { startDatabase } from '@/lib/store/start-database'
import { runSql } from './test-database'

const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-embedded-'))
/** Root may keep it anywhere; without this the server's user could not enter, and its files would lie elsewhere. */
beforeAll(() => fs.chmodSync(home, 0o755))
afterAll(() => fs.rmSync(home, { recursive: true, force: true }))

const processId = () =>
  Number(fs.readFileSync(path.join(home, 'database/data/postmaster.pid'), 'utf8').split('\n')[0])

async function eventually<T>(attempt: () => Promise<T>): Promise<T> {
  for (let i = 0; ; i++) {
    try {
      return await attempt()
    } catch (error) {
      if (i > 100) throw error
      await sleep(100)
    }
  }
}

const sum = async (server: EmbeddedServer) =>
  (await runSql(server.adminUrl('postgres'), 'select sum(n)::int as sum from kept'))[0]?.sum

test('the last one to let go stops the server, and not before', async () => {
  const [first, second] = await Promise.all([startEmbeddedServer(home), startEmbeddedServer(home)])
  const url = first.adminUrl('postgres')
  expect(second.adminUrl('postgres')).toBe(url)
  await runSql(url, 'create table kept (n int)', 'insert into kept values (1)')
  await first.release()
  expect(await runSql(url, 'select n from kept')).toEqual([{ n: 1 }])
  await second.release()
  await expect(runSql(url, 'select n from kept')).rejects.toThrow()
  expect(fs.existsSync(path.join(home, 'database/data/postmaster.pid'))).toBe(false)
})

test('a server that is killed comes back at the same address with every row', async () => {
  const server = await startEmbeddedServer(home)
  const killed = processId()
  await runSql(server.adminUrl('postgres'), 'insert into kept values (10)')
  process.kill(killed, 'SIGKILL')
  expect(await eventually(() => sum(server))).toBe(11)
  expect(processId()).not.toBe(killed)
  await server.release()
})

test('the start after a kill of everything finds every row, whatever was left behind', async () => {
  const server = await startEmbeddedServer(home)
  await runSql(server.adminUrl('postgres'), 'insert into kept values (100)')
  const left = fs.readFileSync(path.join(home, 'database/data/postmaster.pid'), 'utf8')
  await server.release()
  // As after a cut of power: the note of a server that is no more, with the number of a process that is another's.
  fs.writeFileSync(path.join(home, 'database/data/postmaster.pid'), left.replace(/^\d+/, String(process.pid)))
  const next = await startEmbeddedServer(home)
  expect(await sum(next)).toBe(111)
  await next.release()
})

test('text is UTF-8 and has lower case beyond ASCII', async () => {
  const server = await startEmbeddedServer(home)
  const [row] = await runSql(
    server.adminUrl('postgres'),
    "select lower('ÄÖ') as low, current_setting('TimeZone') as zone",
  )
  expect(row).toEqual({ low: 'äö', zone: 'UTC' })
  await server.release()
})

test('a server named by DATABASE_URL is migrated, and worked with as the product’s role', async () => {
  const server = await startEmbeddedServer(home)
  await runSql(server.adminUrl('postgres'), 'create database elsewhere')
  const databaseUrl = server.adminUrl('elsewhere')
  const started = await startDatabase({ home: path.join(home, 'not-used'), databaseUrl })
  expect(started.url).toBe(productUrl(databaseUrl))
  expect(await runSql(started.url, 'select count(*)::int as n, current_user as me from vehicles')).toEqual([
    { n: 0, me: 'gudgeon_app' },
  ])
  expect(fs.existsSync(path.join(home, 'not-used'))).toBe(false)
  await started.stop()
  await server.release()
})

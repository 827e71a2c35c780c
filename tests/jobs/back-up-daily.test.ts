import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { backUpDaily, backUpOnce } from '@/lib/jobs/back-up-daily'
import { restore } from '@/lib/store/restore'
import { anOrganisation } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl } = await testDatabase()
const into = await testDatabase()
const folder = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-daily-')), 'backups')
afterAll(() => fs.rmSync(path.dirname(folder), { recursive: true }))
const plan = { folder, kept: 2 }
const at = (text: string) => new Date(text)
const files = () => fs.readdirSync(folder).sort()

test('one a day, the oldest make room, and nobody else may read them; other files are left alone', async () => {
  await anOrganisation(database, 'ours')
  const first = await backUpOnce(adminUrl, plan, at('2026-03-01T12:00:00Z'))
  expect(first).toBe(path.join(folder, 'gudgeon-2026-03-01.zip'))
  expect(fs.statSync(first!).mode & 0o777).toBe(0o600)
  fs.writeFileSync(path.join(folder, 'notes.txt'), 'mine')
  expect(await backUpOnce(adminUrl, plan, at('2026-03-01T23:59:00Z'))).toBeNull()
  await backUpOnce(adminUrl, plan, at('2026-03-02T00:00:00Z'))
  await backUpOnce(adminUrl, plan, at('2026-03-05T00:00:00Z'))
  expect(files()).toEqual(['gudgeon-2026-03-02.zip', 'gudgeon-2026-03-05.zip', 'notes.txt'])

  await restore(into.adminUrl, path.join(folder, 'gudgeon-2026-03-05.zip'))
  expect(await runSql(into.adminUrl, 'select name from organisations')).toEqual([{ name: 'ours' }])
})

test('what cannot be written is told and ends nothing; it is written when it can be', async () => {
  const said: string[] = []
  const blocked = path.join(folder, 'notes.txt', 'backups')
  let clock = at('2026-03-06T00:00:00Z')
  const say = (line: string) => said.push(line)
  const stop = backUpDaily(adminUrl, { folder: blocked, kept: 2 }, { now: () => clock, say })
  await expect.poll(() => said.length).toBe(1)
  expect(said[0]).toMatch(/^The backup of today could not be written to .*notes\.txt/)
  stop()
  fs.rmSync(path.join(folder, 'notes.txt'))
  clock = at('2026-03-06T01:00:01Z')
  const end = backUpDaily(adminUrl, plan, { now: () => clock, say })
  await expect.poll(files).toContain('gudgeon-2026-03-06.zip')
  end()
  expect(said).toHaveLength(1)
})

import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { TestProject } from 'vitest/node'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { prepareDatabase } from '@/lib/store/start-database'
import { runSql } from './test-database'

declare module 'vitest' {
  interface ProvidedContext {
    /** The administrator's address of the database `postgres` on the server that the tests use. */
    adminUrl: string
  }
}

/** One server for all files, with a migrated database that each file copies. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-store-'))
  fs.chmodSync(home, 0o755)
  const embedded = process.env.TEST_DATABASE_URL ? null : await startEmbeddedServer(home)
  const adminUrl = embedded?.adminUrl('postgres') ?? `${process.env.TEST_DATABASE_URL}`
  await runSql(
    adminUrl,
    'drop database if exists gudgeon_template with (force)',
    'create database gudgeon_template',
  )
  await prepareDatabase(adminUrl.replace(/\/[^/?]*(\?|$)/, '/gudgeon_template$1'))
  project.provide('adminUrl', adminUrl)
  return async () => {
    await embedded?.release()
    fs.rmSync(home, { recursive: true, force: true })
  }
}

import crypto from 'node:crypto'
import { Client } from 'pg'
import { afterAll, inject } from 'vitest'
import { type Database, openDatabase } from '@/lib/store/database'
import { productUrl } from '@/lib/store/inner/product-role'

/** Runs statements in one session of the address's role, and answers the rows of the last. */
export async function runSql(url: string, ...statements: string[]): Promise<Record<string, unknown>[]> {
  const client = new Client(url)
  await client.connect()
  try {
    let rows: Record<string, unknown>[] = []
    for (const statement of statements) ({ rows } = await client.query(statement))
    return rows
  } finally {
    await client.end()
  }
}

/** A database of this file's own, copied from the migrated template, opened as the product opens it. */
export async function testDatabase(): Promise<{ database: Database; adminUrl: string; url: string }> {
  const name = `test_${crypto.randomBytes(6).toString('hex')}`
  const server = inject('adminUrl')
  await runSql(server, `create database ${name} template gudgeon_template`)
  const adminUrl = server.replace(/\/[^/?]*(\?|$)/, `/${name}$1`)
  const url = productUrl(adminUrl)
  const database = await openDatabase(url, { kind: 'command', name: 'test' })
  afterAll(async () => {
    await database.$disconnect()
    await runSql(server, `drop database ${name} with (force)`)
  })
  return { database, adminUrl, url }
}

import path from 'node:path'
import { Client } from 'pg'
import { startEmbeddedServer } from './inner/embedded-server'
import { migrate, underMigrationLock } from './inner/migrate'
import { ensureProductRole, grantTables, productUrl } from './inner/product-role'

const MIGRATIONS = path.join(import.meta.dirname, '../../prisma/migrations')
const EMBEDDED_DATABASE = 'gudgeon'

/** Which database the product works with. */
export type DatabaseChoice = {
  /** The folder of the embedded database, and of what else the product keeps. */
  home: string
  /** A PostgreSQL server's address for migrations; without it the embedded one is started. */
  databaseUrl?: string
  /** The address that the product works with on that server; without it the migrations' role makes one. */
  databaseAppUrl?: string
}

/** A database that is up, migrated and ready for the product. */
export type StartedDatabase = {
  /** The product's address: a login role without special rights. */
  url: string
  /** The address that migrations run at; for backups, never for the product. */
  adminUrl: string
  /** Lets go of it; the embedded server stops when nobody else uses it. */
  stop(): Promise<void>
}

/**
 * Brings up the database and its tables: starts or joins the embedded server unless a server is named, applies the
 * migrations, and prepares the role that the product works as.
 *
 * @throws when the server cannot be reached or started, or a migration fails
 */
export async function startDatabase(choice: DatabaseChoice): Promise<StartedDatabase> {
  if (choice.databaseUrl) {
    const url = await prepareDatabase(choice.databaseUrl, choice.databaseAppUrl)
    return { url, adminUrl: choice.databaseUrl, stop: async () => {} }
  }
  const server = await startEmbeddedServer(choice.home)
  try {
    await createDatabase(server.adminUrl('postgres'), EMBEDDED_DATABASE)
    const adminUrl = server.adminUrl(EMBEDDED_DATABASE)
    return { url: await prepareDatabase(adminUrl), adminUrl, stop: server.release }
  } catch (error) {
    await server.release()
    throw error
  }
}

/**
 * Migrates the database at `adminUrl` and lets the product's role at its tables.
 *
 * @param appUrl the product's address when the role exists already; else `gudgeon_app` is made
 * @returns the product's address
 */
export async function prepareDatabase(adminUrl: string, appUrl?: string): Promise<string> {
  const url = appUrl ?? productUrl(adminUrl)
  const { username, password } = new URL(url)
  await asAdmin(adminUrl, (client) =>
    underMigrationLock(client, async () => {
      await migrate(client, MIGRATIONS)
      if (!appUrl) await ensureProductRole(client, password)
      await grantTables(client, decodeURIComponent(username))
    }),
  )
  return url
}

const ALREADY_THERE = ['42P04', '23505'] // duplicate_database; the same, seen a moment too late

async function createDatabase(adminUrl: string, name: string): Promise<void> {
  await asAdmin(adminUrl, async (client) => {
    const { rowCount } = await client.query('select from pg_database where datname = $1', [name])
    if (rowCount !== 0) return
    await client.query(`create database ${name}`).catch((error) => {
      if (!ALREADY_THERE.includes(error.code)) throw error
    })
  })
}

async function asAdmin<T>(url: string, work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client(url)
  client.on('error', () => {}) // a lost connection fails the query that waits, which is where it is told
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

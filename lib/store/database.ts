import { setTimeout as sleep } from 'node:timers/promises'
import { PrismaPg } from '@prisma/adapter-pg'
import { errorDetails } from '@/lib/log/error-details.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'
import { PrismaClient } from '@/prisma/client/client'
import { type Actor, writtenActor } from './actor'

declare const brand: unique symbol

/**
 * The product's connections to its database in the hands of somebody, who stands in the audit trail for what is changed
 * through them. Made by `openDatabase` alone, which refuses a role with special rights, and handed on by `actingAs`.
 */
export type Database = PrismaClient & { readonly [brand]: true }

const CONNECTIONS = 10
/**
 * Days are days of UTC. A page's longest query takes less than the server needs to compile it or to start helpers for
 * it, and sorts a large fleet in so much memory.
 */
const OPTIONS = '-c timezone=UTC -c jit=off -c max_parallel_workers_per_gather=0 -c work_mem=32MB'

/**
 * Statements that are asked again and again are named, so that a connection parses each once, and plans it anew only
 * where that pays. Those beyond so many (one written for what was asked, it may be) stay without a name: what has one
 * is kept by every connection.
 */
const NAMED_STATEMENTS = 500
const WITHOUT_A_NAME = ''

function namesOfStatements(): (query: { sql: string }) => string {
  const names = new Map<string, string>()
  return ({ sql }) => {
    if (!names.has(sql) && names.size < NAMED_STATEMENTS) names.set(sql, `gudgeon_${names.size}`)
    return names.get(sql) ?? WITHOUT_A_NAME
  }
}

/** Who acts through each handle, and the connections that it shares. */
type Handles = WeakMap<Database, { actor: string; connections: Database }>

/** One for the process: the web server loads this module once for each bundle, and hands a database from one to another. */
const held = globalThis as typeof globalThis & { gudgeonHandles?: Handles }
held.gudgeonHandles ??= new WeakMap()
const handles = held.gudgeonHandles

/** The same connections in the hands of somebody else. */
export function actingAs(database: Database, actor: Actor): Database {
  const handle = new Proxy(database, {})
  handles.set(handle, { actor: writtenActor(actor), connections: connectionsOf(database) })
  return handle
}

/** Who acts through a handle, as the audit trail keeps it. */
export function actorOf(database: Database): string {
  const handle = handles.get(database)
  if (!handle) throw new Error('A database that nobody opened')
  return handle.actor
}

/** What all handles on the same connections have in common, whoever acts. */
export const connectionsOf = (database: Database): Database => handles.get(database)?.connections ?? database

/**
 * Opens the database as the product's role.
 *
 * @param url the product's address, from `startDatabase`
 * @param actor whoever acts through it, unless it is handed on
 * @throws when the role could look past row-level security: a superuser, BYPASSRLS, or the owner of a table
 */
export async function openDatabase(url: string, actor: Actor): Promise<Database> {
  const adapter = new PrismaPg(
    { connectionString: url, max: CONNECTIONS, options: OPTIONS },
    {
      onPoolError: (error) => {
        if (!leaving.has(database)) logEvent('database connection lost', errorDetails(error))
      },
      statementNameGenerator: namesOfStatements(),
    },
  )
  const database = new PrismaClient({ adapter }) as Database
  handles.set(database, { actor: writtenActor(actor), connections: database })
  const special = await specialRights(database)
  if (special) {
    await database.$disconnect()
    throw new Error(`The product must not work as this database role: ${special}`)
  }
  return database
}

/** Databases that are being let go of: that one of their connections is lost is no news then. */
const leaving = new WeakSet<Database>()

const LEAVES_WITHIN_MS = 2000

/**
 * Closes the connections before the server stops. Work that does not let go of its own in time loses it, and is done
 * again the next time.
 */
export async function leaveDatabase(database: Database): Promise<void> {
  leaving.add(database)
  const left = database.$disconnect().catch(() => {}) // whatever it was, the process ends
  await Promise.race([left, sleep(LEAVES_WITHIN_MS, undefined, { ref: false })])
}

/** Why the role that we work as would not be held by row-level security; null where it is. */
async function specialRights(database: Database): Promise<string | null> {
  const [role] = await database.$queryRaw<
    { name: string; superuser: boolean; bypasses: boolean; owned: string | null }[]
  >`select rolname as name, rolsuper as superuser, rolbypassrls as bypasses,
      (select min(relname) from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')
        and pg_has_role(current_user, relowner, 'member')) as owned
    from pg_roles where rolname = current_user`
  if (!role) return 'it is not in pg_roles'
  if (role.superuser) return `${role.name} is a superuser`
  if (role.bypasses) return `${role.name} bypasses row-level security`
  return role.owned === null ? null : `${role.name} owns the table ${role.owned}`
}

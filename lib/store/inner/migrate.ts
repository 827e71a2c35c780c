import crypto from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import type { Client } from 'pg'

/** The advisory lock that Prisma Migrate takes, so that it and we never migrate at the same time. */
const PRISMA_MIGRATE_LOCK = 72707369

const MIGRATIONS_TABLE = `create table if not exists _prisma_migrations (
  id varchar(36) primary key not null, checksum varchar(64) not null, finished_at timestamptz,
  migration_name varchar(255) not null, logs text, rolled_back_at timestamptz,
  started_at timestamptz not null default now(), applied_steps_count integer not null default 0)`

type AppliedMigration = { migration_name: string; checksum: string; finished: boolean }

/**
 * Runs `work` while no other migration runs on the same database.
 *
 * @param client one session (not a pool): the lock belongs to it
 */
export async function underMigrationLock<T>(client: Client, work: () => Promise<T>): Promise<T> {
  await client.query('select pg_advisory_lock($1)', [PRISMA_MIGRATE_LOCK])
  try {
    return await work()
  } finally {
    await client.query('select pg_advisory_unlock($1)', [PRISMA_MIGRATE_LOCK])
  }
}

/**
 * Applies the migrations of `folder` that the database does not have yet, in the order of their names, each in a
 * transaction of its own, and notes them in Prisma's own table, so that `prisma migrate status` agrees elsewhere.
 *
 * @param client a session that holds the migration lock
 * @param folder the folder whose sub-folders hold a `migration.sql` each
 * @returns the names of the migrations applied now
 * @throws when a migration fails, failed before, or was changed after it had been applied
 */
export async function migrate(client: Client, folder: string): Promise<string[]> {
  await client.query(MIGRATIONS_TABLE)
  const { rows } = await client.query<AppliedMigration>(
    `select migration_name, checksum, finished_at is not null as finished
     from _prisma_migrations where rolled_back_at is null`,
  )
  const failed = rows.find((row) => !row.finished)
  if (failed)
    throw new Error(`Migration ${failed.migration_name} failed before: mend it, then prisma migrate resolve`)

  const applied = new Map(rows.map((row) => [row.migration_name, row.checksum]))
  const pending: string[] = []
  for (const name of migrationNames(folder)) {
    const sql = fs.readFileSync(path.join(folder, name, 'migration.sql'), 'utf8')
    const checksum = crypto.createHash('sha256').update(sql).digest('hex')
    const known = applied.get(name)
    if (known === undefined) {
      await applyOne(client, name, sql, checksum)
      pending.push(name)
    } else if (known !== checksum) {
      throw new Error(`Migration ${name} was changed after it had been applied`)
    }
  }
  return pending
}

function migrationNames(folder: string): string[] {
  const entries = fs.readdirSync(folder, { withFileTypes: true })
  return entries.flatMap((entry) => (entry.isDirectory() ? [entry.name] : [])).sort()
}

async function applyOne(client: Client, name: string, sql: string, checksum: string): Promise<void> {
  await client.query('begin')
  try {
    await client.query(sql)
    await client.query(
      `insert into _prisma_migrations (id, checksum, finished_at, migration_name, applied_steps_count)
       values ($1, $2, now(), $3, 1)`,
      [crypto.randomUUID(), checksum, name],
    )
    await client.query('commit')
  } catch (error) {
    await client.query('rollback')
    throw new Error(`Migration ${name}: ${error instanceof Error ? error.message : String(error)}`, {
      cause: error,
    })
  }
}

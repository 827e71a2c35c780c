import crypto from 'node:crypto'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { Client, escapeIdentifier } from 'pg'
import { from as copyFrom } from 'pg-copy-streams'
import { bytesOf, openZip, type Zip } from '@/lib/intake/zip'
import { MANIFEST, type Manifest, manifestSchema, type SavedTable, tableEntry } from './inner/backup-format'
import { appliedMigrations, productTables, type Table } from './inner/tables'

/** Why a backup was not restored; nothing was written. The message is for whoever tried. */
export class RestoreRefusal extends Error {
  override name = 'RestoreRefusal'
}

/** The audit trail comes back as it was: bringing rows back is no act of anybody's. Heeded of the tables' owner alone. */
const UNAUDITED = `select set_config('gudgeon.unaudited', 'yes', true)`

/** What came back. */
export type Restored = { madeAt: string; tables: number; rows: number }

/**
 * Brings a backup back into an empty database, all of it or nothing.
 *
 * @param adminUrl the address that migrations run at, on a database that is migrated
 * @throws RestoreRefusal when the file is no whole backup, is of another version, or the database is not empty
 */
export async function restore(adminUrl: string, file: string): Promise<Restored> {
  const zip = await openZip(file).catch((error: Error) => {
    throw new RestoreRefusal(`${file}: is no backup that can be read (${error.message})`)
  })
  const client = new Client({ connectionString: adminUrl, options: '-c timezone=UTC -c datestyle=ISO' })
  client.on('error', () => {}) // a lost connection fails the query that waits
  try {
    const manifest = await readManifest(zip)
    await client.connect()
    await client.query('begin')
    const tables = await productTables(client)
    refuseOtherVersion(manifest, await appliedMigrations(client), tables)
    await client.query(UNAUDITED)
    await withoutRowLevelSecurity(client, tables, async () => {
      await refuseUnlessEmpty(client, tables)
      for (const { name } of tables)
        await bringBack(client, zip, manifest.tables.find((saved) => saved.name === name)!)
      await moveSequences(client)
    })
    await client.query('commit')
    const rows = manifest.tables.reduce((sum, saved) => sum + saved.rows, 0)
    return { madeAt: manifest.madeAt, tables: tables.length, rows }
  } finally {
    await client.end()
    zip.close()
  }
}

async function readManifest(zip: Zip): Promise<Manifest> {
  if (!zip.names.includes(MANIFEST))
    throw new RestoreRefusal('It is no backup: it does not say what is in it')
  try {
    return manifestSchema.parse(JSON.parse(Buffer.from(await bytesOf(zip.read(MANIFEST))).toString()))
  } catch {
    throw new RestoreRefusal('The backup is damaged: what it says of itself cannot be read')
  }
}

function refuseOtherVersion(manifest: Manifest, applied: string[], tables: Table[]): void {
  const missing = manifest.migrations.filter((name) => !applied.includes(name))
  if (missing.length > 0)
    throw new RestoreRefusal(
      `The backup is of a later version of Gudgeon, with ${missing.join(', ')}: restore it with that one`,
    )
  const added = applied.filter((name) => !manifest.migrations.includes(name))
  if (added.length > 0)
    throw new RestoreRefusal(
      `The backup is of an earlier version of Gudgeon, without ${added.join(', ')}: restore it with that one, ` +
        'then start this one, which brings it up to date',
    )
  const names = manifest.tables.map(({ name }) => name).sort()
  if (
    names.join() !==
    tables
      .map(({ name }) => name)
      .sort()
      .join()
  )
    throw new RestoreRefusal('The backup is damaged: it does not hold every table')
}

/**
 * Runs `work` while row-level security does not hold the tables' owner, within the transaction: nobody else sees the
 * tables until it is on again.
 */
async function withoutRowLevelSecurity(
  client: Client,
  tables: Table[],
  work: () => Promise<void>,
): Promise<void> {
  const force = async (word: string) => {
    for (const { name, ofOrganisations } of tables)
      if (ofOrganisations)
        await client.query(`alter table ${escapeIdentifier(name)} ${word} row level security`)
  }
  await force('no force')
  await work()
  await force('force')
}

async function refuseUnlessEmpty(client: Client, tables: Table[]): Promise<void> {
  for (const { name } of tables) {
    await client.query(`lock table ${escapeIdentifier(name)} in exclusive mode`)
    const { rowCount } = await client.query(`select from ${escapeIdentifier(name)} limit 1`)
    if (rowCount !== 0)
      throw new RestoreRefusal(
        `The database is not empty (${name} has rows). Restore into a new place: set GUDGEON_HOME to a new folder, ` +
          'or DATABASE_URL to a new database',
      )
  }
}

/** Copies one table's rows in, and holds them against what the backup says of them. */
async function bringBack(client: Client, zip: Zip, saved: SavedTable): Promise<void> {
  const hash = crypto.createHash('sha256')
  async function* hashed(): AsyncGenerator<Uint8Array> {
    for await (const chunk of zip.read(tableEntry(saved.name))) {
      hash.update(chunk)
      yield chunk
    }
  }
  const columns = saved.columns.map(escapeIdentifier).join(', ')
  const copy = client.query(copyFrom(`copy ${escapeIdentifier(saved.name)} (${columns}) from stdin`))
  const failure = await pipeline(Readable.from(hashed()), copy).catch((error: Error) => error)
  if (failure || copy.rowCount !== saved.rows || hash.digest('hex') !== saved.sha256)
    throw new RestoreRefusal(
      `The backup is damaged: the rows of ${saved.name} are not those that were saved` +
        (failure ? ` (${failure.message})` : ''),
    )
}

/** What counts up goes on after the highest number that came back. */
async function moveSequences(client: Client): Promise<void> {
  const { rows } = await client.query<{ table: string; column: string; sequence: string }>(`
    select relname as table, attname as column, pg_get_serial_sequence(quote_ident(relname), attname) as sequence
    from pg_class join pg_attribute on attrelid = pg_class.oid
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and attnum > 0 and not attisdropped
      and pg_get_serial_sequence(quote_ident(relname), attname) is not null`)
  for (const { table, column, sequence } of rows)
    await client.query(
      `select setval($1, coalesce(max(${escapeIdentifier(column)}), 0) + 1, false) from ${escapeIdentifier(table)}`,
      [sequence],
    )
}

import crypto from 'node:crypto'
import { Client, escapeIdentifier, escapeLiteral } from 'pg'
import { to as copyTo } from 'pg-copy-streams'
import { writeZip } from '@/lib/intake/zip'
import { MANIFEST, type Manifest, type SavedTable, tableEntry } from './inner/backup-format'
import { appliedMigrations, productTables, type Table } from './inner/tables'

/** What went into a backup. */
export type BackedUp = { tables: number; rows: number }

/**
 * Writes the whole installation into one file as it is at this moment, while it is in use: one snapshot of all tables.
 * Rows go one organisation after another, so that it is whole for a role that row-level security holds, too.
 *
 * @param adminUrl the address that migrations run at
 * @param file replaced where it is there; it has another name until it is whole
 */
export async function backUp(adminUrl: string, file: string, now: Date): Promise<BackedUp> {
  const client = new Client({ connectionString: adminUrl, options: '-c timezone=UTC -c datestyle=ISO' })
  client.on('error', () => {}) // a lost connection fails the query that waits
  await client.connect()
  try {
    await client.query('begin isolation level repeatable read read only')
    const migrations = await appliedMigrations(client)
    const tables = await productTables(client)
    const organisations = await client.query<{ id: string }>('select id::text from organisations order by id')
    const ids = organisations.rows.map(({ id }) => id)
    const saved: SavedTable[] = []
    const manifest = (): Manifest => ({
      format: 'gudgeon-backup/1',
      madeAt: now.toISOString(),
      migrations,
      tables: saved,
    })
    const entries = tables.map((table) => ({
      name: tableEntry(table.name),
      content: () => rowsOf(client, table, ids, (written) => saved.push(written)),
    }))
    await writeZip(file, [...entries, { name: MANIFEST, content: () => asJson(manifest) }], now)
    return { tables: saved.length, rows: saved.reduce((sum, { rows }) => sum + rows, 0) }
  } finally {
    await client.end()
  }
}

/** A table's rows as they are copied out; then what was written of it. */
async function* rowsOf(
  client: Client,
  { name, columns, ofOrganisations }: Table,
  organisations: string[],
  done: (written: SavedTable) => void,
): AsyncGenerator<Uint8Array> {
  const hash = crypto.createHash('sha256')
  const select = `select ${columns.map(escapeIdentifier).join(', ')} from ${escapeIdentifier(name)}`
  let rows = 0
  for (const organisation of ofOrganisations ? organisations : [null]) {
    await client.query(`select set_config('gudgeon.organisation', $1, true)`, [organisation ?? ''])
    const own = organisation === null ? '' : ` where organisation_id = ${escapeLiteral(organisation)}`
    const copy = client.query(copyTo(`copy (${select}${own}) to stdout`))
    for await (const chunk of copy) {
      hash.update(chunk)
      yield chunk
    }
    rows += copy.rowCount
  }
  done({ name, columns, rows, sha256: hash.digest('hex') })
}

async function* asJson(value: () => unknown): AsyncGenerator<Uint8Array> {
  yield Buffer.from(`${JSON.stringify(value(), null, 2)}\n`)
}

import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { backUp } from '@/lib/store/back-up'
import { organisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { restore } from '@/lib/store/restore'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY } from './example-scores'
import { runSql, testDatabase } from './test-database'

const from = await testDatabase()
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-backup-'))
afterAll(() => fs.rmSync(folder, { recursive: true }))
const file = path.join(folder, 'all.zip')

async function fill(name: string) {
  const organisation = await anOrganisation(from.database, name)
  await withOrganisation(
    from.database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY, null, 1), now: NOW })
      await addRecords(scope, EXAMPLE, { now: NOW, by: null })
    },
    'write',
  )
  return organisation
}

const ours = await fill('ours')
await fill('"theirs"')
const saved = await backUp(from.adminUrl, file, NOW)

/** Every row of every table as the administrator sees it. */
async function everything(url: string): Promise<Record<string, string[]>> {
  const tables = await runSql(
    url,
    `select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r'
     and relname <> '_prisma_migrations'`,
  )
  const all: Record<string, string[]> = {}
  for (const { name } of tables) {
    const rows = await runSql(url, `select row_to_json(t)::text as row from "${name}" t order by 1`)
    all[String(name)] = rows.map(({ row }) => String(row))
  }
  return all
}

/** A copy of the backup in which one thing is different. */
function damaged(name: string, damage: (bytes: Buffer) => void): string {
  const bytes = fs.readFileSync(file)
  damage(bytes)
  const copy = path.join(folder, name)
  fs.writeFileSync(copy, bytes)
  return copy
}

describe('a backup', { timeout: 240_000 }, () => {
  test('comes back in an empty place, every row of every table', async () => {
    const empty = await testDatabase()
    const restored = await restore(empty.adminUrl, file)
    expect(restored).toEqual({ madeAt: NOW.toISOString(), ...saved })
    const expected = await everything(from.adminUrl)
    expect(saved.rows).toBe(Object.values(expected).flat().length)
    expect(expected.readings).toHaveLength(2 * EXAMPLE.readings.length)
    expect(await everything(empty.adminUrl)).toEqual(expected)
  })

  test('leaves row-level security on and forced, and counting goes on', async () => {
    const empty = await testDatabase()
    await restore(empty.adminUrl, file)
    const loose = await runSql(
      empty.adminUrl,
      `select relname from pg_class join pg_attribute on attrelid = pg_class.oid and attname = 'organisation_id'
       where relkind = 'r' and relnamespace = 'public'::regnamespace
         and not (relrowsecurity and relforcerowsecurity)`,
    )
    expect(loose).toEqual([])
    const before = await withOrganisation(empty.database, ours, readRecords)
    expect(before).toEqual(await withOrganisation(from.database, ours, readRecords))
    const later = { ...EXAMPLE.readings[0]!, odometerKm: 99, line: 9 }
    const more = { ...EXAMPLE, readings: [later] }
    await withOrganisation(
      empty.database,
      ours,
      (scope) => addRecords(scope, more, { now: NOW, by: null }),
      'write',
    )
    const { readings } = await withOrganisation(empty.database, ours, readRecords)
    expect(readings).toEqual([...before.readings, later])
    const nobody = organisationId('00000000-0000-7000-8000-000000000000')
    expect(await withOrganisation(empty.database, nobody, ({ tx }) => tx.reading.findMany())).toEqual([])
  })

  test('is one moment of a database in use, and takes nothing that comes later', async () => {
    const busy = path.join(folder, 'busy.zip')
    let stop = false
    const writing = (async () => {
      for (let km = 1000; !stop; km++)
        await withOrganisation(
          from.database,
          ours,
          (scope) =>
            addRecords(
              scope,
              {
                ...EXAMPLE,
                readings: [{ ...EXAMPLE.readings[0]!, odometerKm: km }],
                repairs: [{ ...EXAMPLE.repairs[0]!, odometerKm: km }],
              },
              { now: NOW, by: null },
            ),
          'write',
        )
    })()
    await backUp(from.adminUrl, busy, NOW)
    stop = true
    await writing
    const empty = await testDatabase()
    await restore(empty.adminUrl, busy)
    const [counts] = await runSql(
      empty.adminUrl,
      `select (select count(*)::int from readings where odometer_km >= 1000 and odometer_km < 1e6) as readings,
              (select count(*)::int from repairs where odometer_km >= 1000) as repairs`,
    )
    expect(counts?.readings).toBe(counts?.repairs)
  })

  test('is not restored over what is there', async () => {
    const before = await everything(from.adminUrl)
    await expect(restore(from.adminUrl, file)).rejects.toThrow(/database is not empty/)
    expect(await everything(from.adminUrl)).toEqual(before)
  })

  test('of another version is refused by name', async () => {
    const empty = await testDatabase()
    await runSql(
      empty.adminUrl,
      `insert into _prisma_migrations (id, checksum, finished_at, migration_name, applied_steps_count)
       values ('x', 'x', now(), '99990101000000_later', 1)`,
    )
    await expect(restore(empty.adminUrl, file)).rejects.toThrow(
      /earlier version of Gudgeon, without 99990101000000_later/,
    )
    await runSql(empty.adminUrl, `delete from _prisma_migrations where migration_name ~ '^(99|2026)'`)
    await expect(restore(empty.adminUrl, file)).rejects.toThrow(/later version of Gudgeon/)
  })

  test('that is damaged anywhere is refused, and nothing of it comes in', async () => {
    const empty = await testDatabase()
    const size = fs.statSync(file).size
    const tables = Object.keys(await everything(empty.adminUrl)).map((table) => `"${table}"`)
    const rows = async () => {
      const counts = tables.map((table) => `(select count(*) from ${table})`).join(' + ')
      return Number((await runSql(empty.adminUrl, `select ${counts} as rows`))[0]?.rows)
    }
    for (let i = 0; i < 5; i++) {
      const at = Math.floor((size * (i + 0.5)) / 5)
      const copy = damaged(`damaged-${i}.zip`, (bytes) => bytes.writeUInt8(bytes[at]! ^ 0x55, at))
      const outcome = await restore(empty.adminUrl, copy).catch((error: Error) => error)
      if (outcome instanceof Error) expect(outcome.name).toBe('RestoreRefusal')
      else {
        // A flipped byte that no content depends on: a date or a flag of the archive's own.
        expect(outcome.rows).toBe(saved.rows)
        await runSql(
          empty.adminUrl,
          'alter table audit_lines disable trigger user', // which refuses that
          `truncate ${tables.join(', ')} cascade`,
          'alter table audit_lines enable trigger user',
        )
      }
      expect(await rows()).toBe(0)
    }
    const half = damaged('half.zip', () => {})
    fs.truncateSync(half, Math.floor(size / 2))
    await expect(restore(empty.adminUrl, half)).rejects.toThrow(/no backup that can be read/)
    await expect(restore(empty.adminUrl, path.join(folder, 'none.zip'))).rejects.toThrow(/no backup/)
  })

  test('that cannot be finished leaves no file', async () => {
    const here = path.join(folder, 'not-there', 'all.zip')
    await expect(backUp(from.adminUrl, here, NOW)).rejects.toThrow(/ENOENT/)
    const nowhere = path.join(folder, 'lost.zip')
    const url = new URL(from.adminUrl)
    url.pathname = '/no_such_database'
    await expect(backUp(url.href, nowhere, NOW)).rejects.toThrow(/does not exist/)
    expect(fs.readdirSync(folder).filter((name) => /lost|unfinished/.test(name))).toEqual([])
  })
})

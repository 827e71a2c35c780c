import { beforeAll, describe, expect, test } from 'vitest'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { Prisma } from '@/prisma/client/client'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from './example-scores'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl } = await testDatabase()

/** Every table of an organisation; the test below holds the list against the catalogue. */
const TABLES = [
  'changes',
  'checks',
  'codes',
  'component_scores',
  'libraries',
  'readings',
  'repairs',
  'vehicle_scores',
  'vehicles',
]

let ours: OrganisationId
let theirs: OrganisationId

async function fill(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
      await addRecords(scope, EXAMPLE, NOW)
      const origin = {
        vehicles: EXAMPLE.vehicles,
        library: EXAMPLE_LIBRARY,
        libraryVersion: 1,
        scoredAt: NOW,
      }
      await replaceScores(scope, EXAMPLE_SCORES, origin)
    },
    'write',
  )
  return organisation
}

beforeAll(async () => {
  ours = await fill('ours')
  theirs = await fill('theirs')
})

/** What a session may have named: itself, another, nothing at all, or nothing any more. */
const SESSIONS: Record<string, () => string | null> = {
  right: () => ours,
  wrong: () => theirs,
  empty: () => '',
  missing: () => null,
}

/** Runs a statement as the product with that setting, and undoes it. */
async function tryAs(setting: string | null, statement: string): Promise<number> {
  const undo = new Error('undone')
  let rows = -1
  await database
    .$transaction(async (tx) => {
      if (setting !== null) await tx.$queryRaw`select set_config('gudgeon.organisation', ${setting}, true)`
      rows = /^select/.test(statement)
        ? (await tx.$queryRaw<{ n: number }[]>(Prisma.raw(statement)))[0]!.n
        : await tx.$executeRaw(Prisma.raw(statement))
      throw undo
    })
    .catch((error) => {
      if (error !== undo) throw error
    })
  return rows
}

describe.each(TABLES)('%s', (table) => {
  const own = () => `from ${table} where organisation_id = '${ours}'`

  test.each(Object.entries(SESSIONS))('a session with the %s organisation', async (name, setting) => {
    const right = name === 'right'
    const all = Number((await runSql(adminUrl, `select count(*)::int as n ${own()}`))[0]?.n)
    expect(all).toBeGreaterThan(0)

    expect(await tryAs(setting(), `select count(*)::int as n ${own()}`)).toBe(right ? all : 0)
    const update = `update ${table} set organisation_id = organisation_id where organisation_id = '${ours}'`
    expect(await tryAs(setting(), update)).toBe(right ? all : 0)
    // Vehicles are held by their records, whoever asks; and one that is not seen is not there to be deleted.
    const remove = tryAs(setting(), `delete ${own()}`)
    if (right && table === 'vehicles') await expect(remove).rejects.toThrow(/foreign key/)
    else expect(await remove).toBe(right ? all : 0)
  })

  test.each(Object.entries(SESSIONS))(
    'a row written for an organisation by the session with the %s one',
    async (name, setting) => {
      const columns = await runSql(
        adminUrl,
        `select string_agg(quote_ident(column_name), ', ') as names from information_schema.columns
       where table_schema = 'public' and table_name = '${table}' and column_name <> 'organisation_id'`,
      )
      // A copy of a row of the session's own would clash with it, which shows that the policy let it through.
      const source = await runSql(
        adminUrl,
        `select row_to_json(t)::text as json from ${table} t where organisation_id = '${ours}' limit 1`,
      )
      const json = String(source[0]?.json).replaceAll("'", "''")
      const insert = `insert into ${table} (organisation_id, ${columns[0]?.names})
      select '${ours}', ${columns[0]?.names} from json_populate_record(null::${table}, '${json}'::json)`
      const refusal = name === 'right' ? /unique constraint|duplicate key/i : /row-level security/
      await expect(tryAs(setting(), insert)).rejects.toThrow(refusal)
    },
  )
})

test('the catalogue says that row-level security is on and forced for every table with organisation_id', async () => {
  const rows = await runSql(
    adminUrl,
    `select relname as name, relrowsecurity and relforcerowsecurity as held,
       (select count(*)::int from pg_policy where polrelid = pg_class.oid) as policies
     from pg_class join pg_attribute on attrelid = pg_class.oid and attname = 'organisation_id'
     where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace order by relname`,
  )
  expect(rows).toEqual(TABLES.map((name) => ({ name, held: true, policies: 1 })))
})

test('the tables without row-level security are the two that no organisation owns', async () => {
  const rows = await runSql(
    adminUrl,
    `select relname as name from pg_class
     where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace and not relrowsecurity order by relname`,
  )
  expect(rows.map(({ name }) => name)).toEqual(['_prisma_migrations', 'organisations'])
})

test('organisation_id comes first in the key of every table that has one', async () => {
  const rows = await runSql(
    adminUrl,
    `select conrelid::regclass::text as name from pg_constraint
     join pg_attribute on attrelid = conrelid and attnum = conkey[1]
     where contype = 'p' and connamespace = 'public'::regnamespace and attname = 'organisation_id' order by 1`,
  )
  expect(rows.map(({ name }) => name)).toEqual(TABLES)
})

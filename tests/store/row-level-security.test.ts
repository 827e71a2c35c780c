import { beforeAll, describe, expect, test } from 'vitest'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { Prisma } from '@/prisma/client/client'
import { ANN, addAnn, fillEveryTable, uuid } from './every-table'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl, url } = await testDatabase()

/** Every table of an organisation; the test below holds the list against the catalogue. */
const TABLES = [
  'audit_lines',
  'changes',
  'checks',
  'class_rates',
  'codes',
  'component_scores',
  'cover_terms',
  'digest_mails',
  'digest_wishes',
  'driver_report_acts',
  'driver_reports',
  'erasures',
  'family_takings',
  'fits',
  'idempotency_keys',
  'intake_files',
  'intakes',
  'invitations',
  'jobs',
  'letter_opt_outs',
  'letters',
  'libraries',
  'library_drafts',
  'memberships',
  'money_reports',
  'part_lines',
  'photographs',
  'plan_acts',
  'plan_closed',
  'plan_terms',
  'plan_visits',
  'plan_work',
  'plans',
  'proposal_acts',
  'proposals',
  'readings',
  'rejected_rows',
  'repairs',
  'replays',
  'saved_views',
  'score_history',
  'stock_amounts',
  'stock_lots',
  'stop_notices',
  'tokens',
  'vehicle_labels',
  'vehicle_scores',
  'vehicle_scores_180_days',
  'vehicle_scores_30_days',
  'vehicle_scores_365_days',
  'vehicle_scores_90_days',
  'vehicle_scores_other_days',
  'vehicle_versions',
  'vehicles',
  'webhook_deliveries',
  'webhooks',
  'workbooks',
]

let ours: OrganisationId
let theirs: OrganisationId

beforeAll(async () => {
  await addAnn(adminUrl)
  ours = await fillEveryTable({ database, adminUrl }, 'ours')
  theirs = await fillEveryTable({ database, adminUrl }, 'theirs')
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

/** The product only reads it; what it may not do is tried in `audit.test.ts`. */
const READ_ONLY = ['audit_lines', 'erasures']

describe.each(TABLES)('%s', (table) => {
  const own = () => `from ${table} where organisation_id = '${ours}'`

  test.each(Object.entries(SESSIONS))('a session with the %s organisation', async (name, setting) => {
    const right = name === 'right'
    const all = Number((await runSql(adminUrl, `select count(*)::int as n ${own()}`))[0]?.n)
    expect(all).toBeGreaterThan(0)

    expect(await tryAs(setting(), `select count(*)::int as n ${own()}`)).toBe(right ? all : 0)
    if (READ_ONLY.includes(table)) return
    const update = `update ${table} set organisation_id = organisation_id where organisation_id = '${ours}'`
    expect(await tryAs(setting(), update)).toBe(right ? all : 0)
    // Vehicles are held by their records, whoever asks; and one that is not seen is not there to be deleted.
    const remove = tryAs(setting(), `delete ${own()}`)
    if (right && table === 'vehicles') await expect(remove).rejects.toThrow(/foreign key/)
    else expect(await remove).toBe(right ? all : 0)
  })

  test.skipIf(READ_ONLY.includes(table)).each(Object.entries(SESSIONS))(
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
  const policies = (name: string) => (name === 'memberships' ? 2 : 1)
  expect(rows).toEqual(TABLES.map((name) => ({ name, held: true, policies: policies(name) })))
})

test('a person sees the memberships of their own before an organisation is named, and writes none', async () => {
  const asPerson = (person: string, statement: string) =>
    runSql(url, `select set_config('gudgeon.person', ${person}, false)`, statement)
  const all = 'select organisation_id::text as id from memberships'
  expect((await asPerson(ANN, all)).map(({ id }) => id).sort()).toEqual([ours, theirs].sort())
  expect(await asPerson(uuid(8), all)).toEqual([])
  expect(await asPerson("''", all)).toEqual([])
  for (const statement of ["update memberships set role = 'owner'", 'delete from memberships'])
    expect(await asPerson(ANN, `${statement} returning role`)).toEqual([])
  const join = `insert into memberships values ('${ours}', ${uuid(8)}, 'owner', now())`
  await expect(asPerson(ANN, join)).rejects.toThrow(/row-level security/)
})

test('the tables without row-level security are those that no organisation owns', async () => {
  const rows = await runSql(
    adminUrl,
    `select relname as name from pg_class
     where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace and not relrowsecurity order by relname`,
  )
  expect(rows.map(({ name }) => name)).toEqual([
    '_prisma_migrations',
    'accounts',
    'organisations',
    'people',
    'rate_limits',
    'sessions',
    'verifications',
  ])
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

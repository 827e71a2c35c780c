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

const { database, adminUrl, url } = await testDatabase()

/** Every table of an organisation; the test below holds the list against the catalogue. */
const TABLES = [
  'changes',
  'checks',
  'class_rates',
  'codes',
  'component_scores',
  'cover_terms',
  'family_takings',
  'fits',
  'idempotency_keys',
  'intake_files',
  'intakes',
  'jobs',
  'letter_opt_outs',
  'letters',
  'libraries',
  'library_drafts',
  'memberships',
  'money_reports',
  'part_lines',
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
  'vehicle_scores',
  'vehicle_scores_180_days',
  'vehicle_scores_30_days',
  'vehicle_scores_365_days',
  'vehicle_scores_90_days',
  'vehicle_scores_other_days',
  'vehicle_versions',
  'vehicles',
  'workbooks',
]

/** Rows of the tables that no act of this file fills; `$1` is the organisation. */
const ROWS = [
  `insert into class_rates values ($1, '', '2026-03-01', '{}')`,
  `insert into intakes (organisation_id, id, state, made_at) values ($1, uuid(1), 'staged', now())`,
  `insert into intake_files (organisation_id, id, intake_id, name, content, hash)
   values ($1, uuid(2), uuid(1), 'readings.csv', 'x', 'y')`,
  `insert into rejected_rows (organisation_id, id, intake_id, file_id, line, "column", reason, row)
   values ($1, uuid(3), uuid(1), uuid(2), 2, 'read_on', 'no date', 'a,b')`,
  `insert into jobs (organisation_id, id, kind, state, started_at) values ($1, uuid(4), 'intake', 'done', now())`,
  `insert into tokens (organisation_id, id, name, role, secret_hash, made_at)
   values ($1, uuid(5), 'tracker', 'planner', 'x', now())`,
  `insert into idempotency_keys values ($1, uuid(5), 'key', 'x', 200, 'application/json', '{}', now())`,
  `insert into saved_views (organisation_id, id, name, address, made_at) values ($1, uuid(6), 'a', '/', now())`,
  `insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
   select $1, uuid(7), id, 'pump', 1, now(), 'leak' from vehicles where organisation_id = $1 limit 1`,
  `insert into vehicle_versions (organisation_id, id, vehicle_id, replaced_at)
   select $1, uuid(8), id, now() from vehicles where organisation_id = $1 limit 1`,
  `insert into score_history
   select $1, id, 'pump', 1, 90, '2026-03-01', now(), 0.1, 0.05, 0.2, 'fine', 1 from vehicles
   where organisation_id = $1 limit 1`,
  `insert into fits (organisation_id, id, library_version, as_of, renewals, content, made_at)
   values ($1, uuid(11), 1, '2026-03-01', 40, '{}', now())`,
  `insert into replays (organisation_id, id, library_version, as_of, learned, content, made_at)
   values ($1, uuid(12), 1, '2026-03-01', true, '{}', now())`,
  `insert into workbooks (organisation_id, id, name, content, made_at)
   values ($1, uuid(13), 'fleet.xlsx', 'x', now())`,
  `insert into family_takings (organisation_id, id, source, file, made_at)
   values ($1, uuid(14), 'Example', '{}', now())`,
  `insert into proposals (organisation_id, id, vehicle_id, visit_id, weak_point, positions, made_at, made_on, as_of,
     horizon_days, chances, advice, cost_of_waiting, price, hours, evidence)
   select $1, uuid(15), id, uuid(15), 'pump', '{1}', now(), '2026-03-01', '2026-03-01', 90, '[]', 'book', 1, 1, 1, ''
   from vehicles where organisation_id = $1 limit 1`,
  `insert into proposal_acts (organisation_id, id, proposal_id, act, at)
   values ($1, uuid(16), uuid(15), 'accepted', now())`,
  `insert into letters (organisation_id, id, vehicle_id, customer, customer_key, jobs, content, written_on, written_at)
   select $1, uuid(17), id, 'Ann', 'ann', '[]', '', '2026-03-01', now() from vehicles
   where organisation_id = $1 limit 1`,
  `insert into letter_opt_outs (organisation_id, id, customer, customer_key, noted_on, noted_at)
   values ($1, uuid(18), 'Ann', 'ann', '2026-03-01', now())`,
  `insert into part_lines (organisation_id, id, part, whole, entered_at)
   values ($1, uuid(19), 'INJ-22', true, now())`,
  `insert into cover_terms (organisation_id, id, vehicle_id, excluded, made_at)
   select $1, uuid(40), id, '{}', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into stock_amounts (organisation_id, vehicle_id, basis, made_at, family)
   select $1, id, '', now(), '' from vehicles where organisation_id = $1 limit 1`,
  `insert into stock_lots values ($1, '', '{}', now())`,
  `insert into plan_terms (organisation_id, id, weeks, bays, kept, made_at) values ($1, uuid(31), 8, '[]', 0, now())`,
  `insert into plans (organisation_id, id, first_day, weeks, as_of, gain, content, made_at)
   values ($1, uuid(32), '2026-03-02', 8, '2026-03-01', 0, '{}', now())`,
  `insert into plan_visits (organisation_id, id, vehicle_id, week_on, bay, hours, gain, jobs, pinned, made_at)
   select $1, uuid(33), id, '2026-03-02', 0, 1, 1, '[]', false, now() from vehicles where organisation_id = $1 limit 1`,
  `insert into plan_work (organisation_id, id, what, week_on, bay, hours, made_at)
   values ($1, uuid(34), 'tyres', '2026-03-02', 0, 1, now())`,
  `insert into plan_closed (organisation_id, id, vehicle_id, from_on, until_on, why, made_at)
   select $1, uuid(35), id, '2026-03-02', '2026-03-03', 'away', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into plan_acts (organisation_id, id, act, told, before, at) values ($1, uuid(36), 'pinned', '{}', '{}', now())`,
  `insert into money_reports values ($1, '', '', '{}', now())`,
  `insert into library_drafts (organisation_id, id, family, made_at, changed_at)
   values ($1, uuid(10), '{}', now(), now())`,
  `insert into vehicle_scores (organisation_id, vehicle_id, horizon_days, as_of, library_version, scored_at, assessed,
     family_name, odometer_estimated, standing, advice, weak_points_covered)
   select $1, id, 60, '2026-03-01', 1, now(), true, 'Plover', false, false, 'fine', 1 from vehicles
   where organisation_id = $1 limit 1`,
  `insert into memberships (organisation_id, person_id, role, made_at) values ($1, uuid(9), 'owner', now())`,
]
/** `uuid(7)` in the rows above. */
const id = (n: number) => `'00000000-0000-7000-8000-${String(n).padStart(12, '0')}'`
const PERSON = id(9)

let ours: OrganisationId
let theirs: OrganisationId

async function fill(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
      await addRecords(scope, EXAMPLE, { now: NOW, by: null })
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
  const rows = ROWS.map((row) =>
    row.replaceAll('$1', `'${organisation}'`).replace(/uuid\((\d+)\)/g, (_, n) => id(Number(n))),
  )
  await runSql(adminUrl, ...rows)
  return organisation
}

beforeAll(async () => {
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values (${PERSON}, 'Ann', 'ann@mill.example', now())`,
  )
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
  const policies = (name: string) => (name === 'memberships' ? 2 : 1)
  expect(rows).toEqual(TABLES.map((name) => ({ name, held: true, policies: policies(name) })))
})

test('a person sees the memberships of their own before an organisation is named, and writes none', async () => {
  const asPerson = (person: string, statement: string) =>
    runSql(url, `select set_config('gudgeon.person', ${person}, false)`, statement)
  const all = 'select organisation_id::text as id from memberships'
  expect((await asPerson(PERSON, all)).map(({ id }) => id).sort()).toEqual([ours, theirs].sort())
  expect(await asPerson(id(8), all)).toEqual([])
  expect(await asPerson("''", all)).toEqual([])
  for (const statement of ["update memberships set role = 'owner'", 'delete from memberships'])
    expect(await asPerson(PERSON, `${statement} returning role`)).toEqual([])
  const join = `insert into memberships values ('${ours}', ${id(8)}, 'owner', now())`
  await expect(asPerson(PERSON, join)).rejects.toThrow(/row-level security/)
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

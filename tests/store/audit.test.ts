/** The audit trail in the database: of which tables and columns, who, what, before and after; nobody changes a line. */
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '@/lib/store/actor'
import { actingAs, openDatabase } from '@/lib/store/database'
import { newId } from '@/lib/store/inner/new-id'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readAuditChain } from '@/lib/store/read/audit-chain'
import {
  type AuditLine,
  type AuditWanted,
  readAuditActors,
  readAuditLines,
} from '@/lib/store/read/audit-lines'
import { prepareDatabase } from '@/lib/store/start-database'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { addToken } from '@/lib/store/write/add-token'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { correctRecord } from '@/lib/store/write/correct-record'
import { putLibrary } from '@/lib/store/write/put-library'
import { saveView } from '@/lib/store/write/save-view'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { addAnn, fillEveryTable } from './every-table'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY } from './example-scores'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl, url } = await testDatabase()
const ORIGIN = { now: NOW, by: '00000000-0000-7000-8000-0000000000aa' }
const ANN: Actor = { kind: 'person', id: ORIGIN.by }
const NONE = { ...EXAMPLE, vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] }
const ALL = {
  ...{ actor: null, what: null, unit: null, since: null, until: null, before: null },
  ...{ timeZone: 'UTC', most: 1000 },
}

const write = <T>(
  organisation: OrganisationId,
  work: (scope: OrganisationScope) => Promise<T>,
  actor: Actor = ANN,
) => withOrganisation(actingAs(database, actor), organisation, work, 'write')
const lines = async (organisation: OrganisationId, wanted: Partial<AuditWanted> = {}): Promise<AuditLine[]> =>
  (await withOrganisation(database, organisation, (scope) => readAuditLines(scope, { ...ALL, ...wanted })))
    .lines
const chain = (organisation: OrganisationId, seen: Parameters<typeof readAuditChain>[1] = null) =>
  withOrganisation(database, organisation, (scope) => readAuditChain(scope, seen), 'whole')
const newest = async (organisation: OrganisationId) => (await lines(organisation, { most: 1 }))[0]!

async function filled(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  await write(organisation, async (scope) => {
    await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
    await addRecords(scope, EXAMPLE, ORIGIN)
  })
  return organisation
}

/** Tables in which no line is written of a change, and why. */
const UNWATCHED: Record<string, string> = {
  audit_lines: 'the trail itself',
  vehicle_versions: 'how a vehicle was before: its changes are in the trail',
  rejected_rows: 'what was not taken in; the files are in the trail',
  replays: 'reckoned',
  vehicle_scores: 'reckoned',
  component_scores: 'reckoned',
  score_history: 'reckoned',
  class_rates: 'reckoned',
  stock_amounts: 'reckoned',
  stock_lots: 'reckoned',
  money_reports: 'reckoned',
  jobs: 'work under way; what it changes is in the trail',
  idempotency_keys: 'answers that were given',
  webhook_deliveries: 'what was told, with its own list',
  digest_mails: 'what was sent, with its own list',
}

describe('of which tables and columns', () => {
  test('a line is written of every table of an organisation, or there is a reason why not', async () => {
    const watched = await runSql(adminUrl, 'select name from audit.watched order by name')
    const tables = await runSql(
      adminUrl,
      `select relname as name from pg_class join pg_attribute on attrelid = pg_class.oid
         and attname = 'organisation_id'
       where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace and not relispartition order by 1`,
    )
    const expected = tables.map(({ name }) => String(name)).filter((name) => !Object.hasOwn(UNWATCHED, name))
    expect(watched.map(({ name }) => name)).toEqual([...expected, 'organisations'].sort())
    expect(tables.map(({ name }) => name)).toEqual(expect.arrayContaining(Object.keys(UNWATCHED)))
  })

  test('every column of them is told, or left out by name; a migration that adds one watches the table again', async () => {
    const missing = await runSql(
      adminUrl,
      `select name || '.' || attname as missing from audit.watched
       join pg_attribute on attrelid = ('public.' || quote_ident(name))::regclass and attnum > 0 and not attisdropped
       where attname <> all (left_out) and attname not in ('organisation_id', 'id', 'vehicle_id')
         and position('n.' || quote_ident(attname) in
           pg_get_functiondef(('audit.' || quote_ident(name || '_added'))::regproc)) = 0`,
    )
    expect(missing).toEqual([])
    const unknown = await runSql(
      adminUrl,
      `select name, column_name from audit.watched, unnest(left_out || unsaid) as column_name
       where not exists (select from pg_attribute where attname = column_name
         and attrelid = ('public.' || quote_ident(name))::regclass)
         and name not in ('readings', 'codes', 'checks', 'repairs', 'changes')`,
    )
    expect(unknown).toEqual([])
  })

  test('a row of every table of an organisation leaves a line, and no secret is in any', async () => {
    await addAnn(adminUrl)
    const organisation = await fillEveryTable({ database, adminUrl }, 'every table')
    const told = await lines(organisation)
    const watched = await runSql(adminUrl, 'select name from audit.watched')
    expect(new Set(told.map(({ what }) => what))).toEqual(new Set(watched.map(({ name }) => name)))
    const text = JSON.stringify(told)
    for (const secret of ['whsec_', 'secret_hash":"\\\\x', 'secret":"\\\\x'])
      expect(text).not.toContain(secret)
    expect(text).toContain('(not told)')
  })
})

describe('what a line says', () => {
  let ours: OrganisationId
  beforeAll(async () => {
    ours = await filled('what a line says')
  })

  test('of a change what is otherwise, before and after, and nothing else', async () => {
    await write(ours, (scope) =>
      changeVehicle(scope, { unit: 'B-2', facts: { plate: 'ZZ 77', watchedFromKm: 13 }, ...ORIGIN }),
    )
    expect(await newest(ours)).toMatchObject({
      ...{ actor: `person:${ORIGIN.by}`, what: 'vehicles', act: 'changed', unit: 'B-2', rowCount: 1 },
      before: { plate: null, watched_from_km: 12.5 },
      after: { plate: 'ZZ 77', watched_from_km: 13 },
    })
  })

  test('of a row that was added what it says, without what says nothing', async () => {
    await write(ours, (scope) =>
      addRecords(
        scope,
        { ...NONE, readings: [{ ...EXAMPLE.readings[0]!, odometerKm: 77, ref: null }] },
        ORIGIN,
      ),
    )
    expect(await newest(ours)).toMatchObject({
      ...{ what: 'readings', act: 'added', unit: 'B-10', before: null },
      after: { odometer_km: 77, source: 'tracker', read_on: '2024-10-04' },
    })
    expect(Object.keys((await newest(ours)).after ?? {})).not.toContain('engine_hours')
  })

  test('a correction is told as what it changes, a withdrawal as its moment', async () => {
    const [reading] = await withOrganisation(
      database,
      ours,
      ({ tx }) => tx.$queryRaw<{ id: string }[]>`select id::text from readings where odometer_km = 77`,
    )
    const corrected = { ...EXAMPLE.readings[0]!, odometerKm: 78, ref: null }
    const done = await write(ours, (scope) =>
      correctRecord(scope, { kind: 'readings', id: reading!.id, row: corrected, ...ORIGIN }),
    )
    expect(done).toMatchObject({ ok: true })
    expect(await newest(ours)).toMatchObject({
      ...{ what: 'readings', act: 'corrected', before: { odometer_km: 77 }, after: { odometer_km: 78 } },
    })
    const { subject } = await newest(ours)
    await write(ours, (scope) => withdrawRecord(scope, { kind: 'readings', id: `${subject}`, ...ORIGIN }))
    expect(await newest(ours)).toMatchObject({
      ...{ what: 'readings', act: 'changed', subject, before: { withdrawn_at: null } },
    })
  })

  test('scores, use and what else is reckoned leave none', async () => {
    const before = await newest(ours)
    await write(
      ours,
      ({ tx }) =>
        tx.$executeRaw`update vehicles set records_version = records_version + 1, scored_from = 'x', usage_facts = '{}'`,
    )
    expect(await newest(ours)).toEqual(before)
  })

  test('what was undone before it was kept leaves none', async () => {
    const before = await newest(ours)
    const failed = write(ours, async (scope) => {
      await saveView(scope, { name: 'Late', address: '/', ...ORIGIN })
      throw new Error('on purpose')
    })
    await expect(failed).rejects.toThrow('on purpose')
    expect(await newest(ours)).toEqual(before)
  })

  test('more than twenty rows of a kind in one transaction are one line with their count', async () => {
    const many = (n: number) =>
      Array.from({ length: n }, (_, i) => ({ ...EXAMPLE.readings[0]!, ref: null, readOn: 1000 + i, line: i }))
    await write(ours, async (scope) => {
      await addRecords(scope, { ...NONE, readings: many(15) }, ORIGIN)
      await addRecords(scope, { ...NONE, readings: many(30).slice(15) }, ORIGIN)
    })
    const added = { what: 'readings', act: 'added', rowCount: 30, before: null, subject: null }
    expect(await newest(ours)).toMatchObject(added)
    await write(
      ours,
      ({ tx }) => tx.$executeRaw`update readings set withdrawn_at = ${NOW} where read_on < '1973-01-01'`,
    )
    expect(await newest(ours)).toMatchObject({ what: 'readings', act: 'changed' })
    expect((await newest(ours)).rowCount).toBeGreaterThanOrEqual(30)
  })
})

describe('who', () => {
  test.each<Actor>([
    ANN,
    { kind: 'token', id: '00000000-0000-7000-8000-0000000000bb' },
    { kind: 'label', id: '00000000-0000-7000-8000-0000000000cc' },
    { kind: 'job', name: 'learn' },
    { kind: 'command', name: 'import' },
  ])('$kind stands in the line, and can be asked for', async (actor) => {
    const organisation = await anOrganisation(database, `who ${actor.kind}`)
    await write(organisation, (scope) => saveView(scope, { name: 'A', address: '/', ...ORIGIN }), actor)
    const written = `${actor.kind}:${'id' in actor ? actor.id : actor.name}`
    expect(await newest(organisation)).toMatchObject({ actor: written, what: 'saved_views' })
    expect(await lines(organisation, { actor: written })).toHaveLength(1)
    const known = await withOrganisation(database, organisation, readAuditActors)
    expect(known).toEqual(['command:test', written].sort())
  })

  test('whoever works on the tables beside the product stands there as their role', async () => {
    const organisation = await anOrganisation(database, 'beside')
    await runSql(adminUrl, `update organisations set name = 'besides' where id = '${organisation}'`)
    const line = await newest(organisation)
    expect(line).toMatchObject({
      what: 'organisations',
      before: { name: 'beside' },
      after: { name: 'besides' },
    })
    expect(line.actor).toBe(`database:${new URL(adminUrl).username}`)
  })
})

describe('nobody changes a line', () => {
  let ours: OrganisationId
  beforeAll(async () => {
    ours = await filled('append only')
  })
  const as = (address: string, statement: string) =>
    runSql(address, `select set_config('gudgeon.organisation', '${ours}', false)`, statement)

  test.each([
    `insert into audit_lines (organisation_id, place, at, actor, what, act, row_count, content_hash, hash)
     values (own_organisation(), 999, now(), 'person:x', 'vehicles', 'added', 1, '', '')`,
    `update audit_lines set actor = 'person:x'`,
    'delete from audit_lines',
    'truncate audit_lines',
    'alter table audit_lines disable trigger all',
    `insert into audit.pending (organisation_id, what, act) values (own_organisation(), 'vehicles', 'added')`,
    'delete from audit.pending',
    "select audit.watch('vehicles', '{}')",
    'alter table vehicles disable trigger audit_changed',
  ])('the product’s role: %s', async (statement) => {
    await expect(as(url, statement)).rejects.toThrow(/permission denied|must be owner/)
  })

  test('the product cannot ask to write without lines, as bringing a backup back does', async () => {
    const statement = `insert into saved_views (organisation_id, id, name, address, made_at)
      values (own_organisation(), '${newId(NOW)}', 'quiet', '/', now())`
    await runSql(
      url,
      `select set_config('gudgeon.organisation', '${ours}', false)`,
      `select set_config('gudgeon.unaudited', 'yes', false)`,
      statement,
    )
    expect(await newest(ours)).toMatchObject({ what: 'saved_views', after: { name: 'quiet' } })
  })

  test.each([
    `update audit_lines set actor = 'person:x' where place = 1`,
    `update audit_lines set after = '{}' where place = 1`,
    'delete from audit_lines where place = 1',
    'truncate audit_lines',
  ])('not even the owner by mistake: %s', async (statement) => {
    await expect(as(adminUrl, statement)).rejects.toThrow('Lines of the audit trail are only ever added')
  })
})

describe('the chain', () => {
  /** A trail with a change that whoever owns the tables made on purpose. */
  const tamper = (...statements: string[]) =>
    runSql(
      adminUrl,
      'alter table audit_lines disable trigger user',
      ...statements,
      'alter table audit_lines enable trigger user',
    )

  test('is whole, from its first line to its end, and the end that was seen stays in it', async () => {
    const organisation = await filled('whole')
    const found = await chain(organisation)
    const told = await lines(organisation)
    expect(found).toMatchObject({ ok: true, lines: told.length, end: { place: told[0]!.place } })
    await write(organisation, (scope) => saveView(scope, { name: 'A', address: '/', ...ORIGIN }))
    if (!found.ok) throw new Error('broken')
    expect(await chain(organisation, found.end)).toMatchObject({ ok: true, lines: told.length + 1 })
  })

  test.each([
    { name: 'who', set: `actor = 'person:x'`, reason: 'line-changed' },
    { name: 'when', set: `at = at - interval '1 ms'`, reason: 'line-changed' },
    { name: 'which row', set: `subject = null`, reason: 'line-changed' },
    { name: 'how many', set: 'row_count = 2', reason: 'line-changed' },
    { name: 'what it was before', set: `before = '{"plate": "X"}'`, reason: 'content-changed' },
    { name: 'what it is after', set: `after = after || '{"plate": "X"}'`, reason: 'content-changed' },
    { name: 'what it says at all', set: `after = null, salt = null`, reason: 'content-gone' },
    { name: 'its own hash', set: `hash = sha256(hash)`, reason: 'line-changed' },
  ])('shows that somebody changed $name', async ({ name, set, reason }) => {
    const organisation = await filled(`changed ${name}`)
    await tamper(`update audit_lines set ${set} where organisation_id = '${organisation}' and place = 3`)
    expect(await chain(organisation)).toEqual({ ok: false, lines: 2, place: 3, reason })
  })

  test('shows that a line is missing, in the middle; at the end to whoever has seen it', async () => {
    const organisation = await filled('missing')
    const whole = await chain(organisation)
    if (!whole.ok || !whole.end) throw new Error('broken')
    const { place } = whole.end
    const remove = (n: number) =>
      tamper(`delete from audit_lines where organisation_id = '${organisation}' and place = ${n}`)
    await remove(place)
    expect(await chain(organisation)).toMatchObject({ ok: true, lines: place - 1 })
    expect(await chain(organisation, whole.end)).toMatchObject({ ok: false, place, reason: 'missing' })
    await write(organisation, (scope) => saveView(scope, { name: 'A', address: '/', ...ORIGIN }))
    expect(await chain(organisation, whole.end)).toMatchObject({
      ok: false,
      place,
      reason: 'not-the-one-seen',
    })
    await remove(2)
    expect(await chain(organisation)).toMatchObject({ ok: false, place: 2, reason: 'missing' })
  })

  test('holds when many write at once, and nobody waits for somebody who is not done', async () => {
    const organisation = await filled('at once')
    const before = (await lines(organisation)).length
    const writer = async (w: number) => {
      for (let i = 0; i < 10; i++)
        await write(organisation, (scope) => saveView(scope, { name: `${w} ${i}`, address: '/', ...ORIGIN }))
    }
    await write(organisation, async (scope) => {
      await saveView(scope, { name: 'slow', address: '/', ...ORIGIN })
      await Promise.all([0, 1, 2, 3, 4].map(writer)) // they end while this one goes on
    })
    expect(await chain(organisation)).toMatchObject({ ok: true, lines: before + 51 })
    expect(await newest(organisation)).toMatchObject({ after: { name: 'slow' } })
    expect(await runSql(adminUrl, 'select * from audit.pending')).toEqual([])
  })
})

describe('asking for lines', () => {
  let ours: OrganisationId
  let all: AuditLine[]
  beforeAll(async () => {
    ours = await filled('asking')
    const secretHash = Buffer.from('x')
    for (const name of ['a', 'b'])
      await write(ours, (scope) => addToken(scope, { name, role: 'reader', by: null, now: NOW, secretHash }))
    all = await lines(ours)
  })

  test('the newest first, page by page, each line once', async () => {
    const places = all.map(({ place }) => place)
    expect(places).toEqual(places.toSorted((a, b) => b - a))
    const paged: number[] = []
    let before: number | null = null
    do {
      const page = await withOrganisation(database, ours, (scope) =>
        readAuditLines(scope, { ...ALL, before, most: 2 }),
      )
      paged.push(...page.lines.map(({ place }) => place))
      before = page.next
    } while (before !== null)
    expect(paged).toEqual(places)
  })

  test('by what, by vehicle, by day; and of nothing that there is not', async () => {
    const like = (holds: (line: AuditLine) => boolean) => all.filter(holds).map(({ place }) => place)
    const asked = async (wanted: Partial<AuditWanted>) =>
      (await lines(ours, wanted)).map(({ place }) => place)
    expect(await asked({ what: 'tokens' })).toEqual(like(({ what }) => what === 'tokens'))
    expect(await asked({ unit: 'B-2' })).toEqual(like(({ unit }) => unit === 'B-2'))
    expect((await asked({ unit: 'B-2' })).length).toBeGreaterThan(1)
    const today = all[0]!.at.toISOString().slice(0, 10)
    const yesterday = new Date(all[0]!.at.getTime() - 86_400_000).toISOString().slice(0, 10)
    expect(await asked({ since: yesterday, until: today })).toEqual(all.map(({ place }) => place))
    expect(await asked({ until: yesterday })).toEqual([])
    expect(await asked({ since: '2999-01-01' })).toEqual([])
    expect(await asked({ unit: 'none' })).toEqual([])
    expect(await asked({ what: 'tokens', actor: 'job:learn' })).toEqual([])
  })
})

test('it is written where the owner of the tables is no superuser, whom row-level security holds, too', async () => {
  const name = `test_owned_${newId(NOW).slice(-12)}`
  await runSql(
    adminUrl,
    `create role ${name} login createrole password 'p'`,
    `create database ${name} owner ${name}`,
  )
  const address = (user: string, password: string) => {
    const url = new URL(adminUrl)
    return Object.assign(url, { username: user, password, pathname: `/${name}` }).href
  }
  try {
    const app = new URL(url)
    const owner = address(name, 'p')
    await prepareDatabase(owner, address(app.username, decodeURIComponent(app.password)))
    const owned = await openDatabase(address(app.username, decodeURIComponent(app.password)), ANN)
    const organisation = await anOrganisation(owned, 'owned')
    await withOrganisation(owned, organisation, (scope) => addRecords(scope, EXAMPLE, ORIGIN), 'write')
    const found = await withOrganisation(owned, organisation, (scope) => readAuditChain(scope, null))
    expect(found).toMatchObject({ ok: true, lines: 13 })
    await owned.$disconnect()
  } finally {
    await runSql(adminUrl, `drop database if exists ${name} with (force)`, `drop role ${name}`)
  }
})

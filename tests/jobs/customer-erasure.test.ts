/** A customer taken out of every row: nowhere a name, contact, plate or chassis number; scores as they were; the trail whole. */
import { expect, test } from 'vitest'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import type { VehicleRow } from '@/lib/records/rows'
import { wordsOf } from '@/lib/store/customer-words'
import { actingAs } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type ChainFound, readAuditChain } from '@/lib/store/read/audit-chain'
import { readCustomer } from '@/lib/store/read/customer'
import { readEverythingOf } from '@/lib/store/read/everything-of-customer'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addDriverReport } from '@/lib/store/write/add-driver-report'
import { addRecords } from '@/lib/store/write/add-records'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { type Erased, eraseCustomer } from '@/lib/store/write/erase-customer'
import { optOut } from '@/lib/store/write/opt-out'
import { saveView } from '@/lib/store/write/save-view'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { demoFleet, NOW, withLibrary } from '../jobs/demo-fleet'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl } = await testDatabase()
const ANN = '00000000-0000-7000-8000-0000000000aa'
const BY = { now: NOW, by: ANN }
const NAME = 'Wilma (née) Örtel-Reed'
const CONTACT = 'w.ortel@post.example, 0151 / 23'
const PLATE = 'WO 41 RD'
const VIN = 'ZZZTESTXX00000041'
/** However they may be written; `RD` alone is no word of theirs. */
const TRACES = ['wilma', 'örtel', 'ortel@', 'WO 41 RD', VIN.toLowerCase(), '0151 / 23']

const fleet = demoFleet(3)
const [theirs, sold, other] = fleet.records.vehicles.map(({ unit }) => unit) as [string, string, string]
const owned = { customer: NAME, contact: CONTACT }

const write = <T>(organisation: OrganisationId, work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(actingAs(database, { kind: 'person', id: ANN }), organisation, work, 'write')

async function shop(name: string): Promise<OrganisationId> {
  const organisation = await withLibrary(database, name, fleet)
  const vehicles = fleet.records.vehicles.map(
    (row): VehicleRow =>
      row.unit === theirs ? { ...row, ...owned, plate: PLATE, vin: VIN, notes: { Halter: NAME } } : row,
  )
  const [repair, ...repairs] = fleet.records.repairs.filter(({ unit }) => unit === theirs)
  const noted = { ...repair!, note: `${NAME.toUpperCase()} waited; call 0151 / 23` }
  const others = fleet.records.repairs.filter(({ unit }) => unit !== theirs)
  await write(organisation, (scope) =>
    addRecords(scope, { ...fleet.records, vehicles, repairs: [noted, ...repairs, ...others] }, BY),
  )
  await fillWithTraces(organisation)
  return organisation
}

/** The name in every kind of place in which one gets. */
async function fillWithTraces(organisation: OrganisationId): Promise<void> {
  const act = (unit: string, facts: Partial<VehicleRow>) =>
    write(organisation, (scope) => changeVehicle(scope, { unit, facts, ...BY }))
  await act(sold, { customer: NAME, contact: 'second@ortel@post.example', plate: 'SX 1' })
  await act(sold, { customer: 'Ben Moor', contact: 'ben@post.example' })
  await act(theirs, { site: 'Mill Yard' })
  await write(organisation, async (scope) => {
    await optOut(scope, { customer: ` wilma  (NÉE) örtel-reed`, today: 20_000 }, BY)
    await saveView(scope, { name: `Of ${NAME}`, address: `/?customer=${NAME}`, ...BY })
    const report = {
      kind: 'noise',
      words: `${NAME} says uphill`,
      driver: 'Max Ortel',
      odometerKm: null,
    } as const
    await addDriverReport(scope, theirs, report, NOW)
    const file = Buffer.from(`unit,family,customer,odd\nN1,plover-22,${NAME},x\nN2,plover-22,Ben Moor,y\n`)
    const western = Buffer.from(`unit;customer\nN3;${NAME}\n`, 'latin1')
    const files = [
      { name: 'vehicles.csv', kind: kindOfFile('vehicles.csv', file), bytes: file },
      { name: 'old.csv', kind: null, bytes: western },
    ]
    await stageIntake(scope, files, BY)
    await scope.tx.$executeRaw`
      insert into workbooks (organisation_id, id, name, content, profile, made_at)
      values (${organisation}::uuid, gen_random_uuid(), 'a.xlsx', 'PK', ${JSON.stringify({ samples: [NAME, 12] })}::json, ${NOW})`
    await scope.tx.$executeRaw`
      insert into plan_acts (organisation_id, id, act, told, before, at)
      values (${organisation}::uuid, gen_random_uuid(), 'promised', ${JSON.stringify({ whom: NAME, km: 15123 })}::jsonb, '{}', ${NOW})`
    await scope.tx.$executeRaw`
      insert into letters (organisation_id, id, vehicle_id, customer, customer_key, jobs, content, written_on, written_at)
      select ${organisation}::uuid, gen_random_uuid(), id, ${NAME}, 'wilma (née) örtel-reed', '[]',
        ${`Dear ${NAME},\nyour ${PLATE} …`}, ${NOW}::date, ${NOW} from vehicles where unit = ${theirs}`
    await scope.tx.$executeRaw`
      insert into photographs (organisation_id, id, vehicle_id, content, width, height, note, taken_at, entered_at)
      select ${organisation}::uuid, gen_random_uuid(), id, 'x', 1, 1, '', ${NOW}, ${NOW} from vehicles where unit in (${theirs}, ${other})`
  })
}

const erase = (organisation: OrganisationId, unitsAreNames = false): Promise<Erased> =>
  write(organisation, async (scope) => {
    const customer = (await readCustomer(scope, NAME))!
    const words = wordsOf(customer, { unitsAreNames, more: ['Max Ortel'] })
    return eraseCustomer(scope, { customer, words }, BY)
  })

/** Every value of every column of every row of an organisation, whatever its type, that holds one of their words. */
async function tracesIn(organisation: OrganisationId): Promise<string[]> {
  const columns = await runSql(
    adminUrl,
    `select relname as table, attname as column, atttypid = 'bytea'::regtype as bytes from pg_class
     join pg_attribute on attrelid = pg_class.oid and attnum > 0 and not attisdropped
     where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and not relispartition
       and exists (select from pg_attribute own where own.attrelid = pg_class.oid and own.attname = 'organisation_id')`,
  )
  const escaped = TRACES.flatMap((trace) => [
    trace,
    trace.replace('ö', '\\303\\266'),
    trace.replace('ö', '\\366'),
  ])
  const selects = columns.map(({ table, column, bytes }) => {
    const text = bytes ? `encode("${column}", 'escape')` : `"${column}"::text`
    const like = escaped.map((trace) => `position('${trace.toLowerCase()}' in lower(${text})) > 0`)
    return `select '${table}' as table, '${column}' as column, left(${text}, 200) as text from "${table}"
      where organisation_id = '${organisation}' and (${like.join(' or ')})`
  })
  const found = await runSql(adminUrl, selects.join(' union all '))
  return found.map(({ table, column, text }) => `${table}.${column}: ${text}`)
}

const scoresOf = (organisation: OrganisationId) =>
  runSql(
    adminUrl,
    `select vehicle_id::text, weak_point, position, horizon_days, p_fail::text, p_low::text, p_high::text, cost_of_waiting::text, advice
     from component_scores where organisation_id = '${organisation}' order by 1, 2, 3, 4`,
  )

const erasedShop = shop('erased')
let mark: string
let seen: Extract<ChainFound, { ok: true }>['end']

test('erased, they stand in no column of any row; scores stay to the last digit, also when they are made anew', async () => {
  const organisation = await erasedShop
  await freshenScores(database, organisation, NOW)
  const before = await tracesIn(organisation)
  const tables = new Set(before.map((trace) => trace.split('.')[0]))
  for (const table of [
    'vehicles',
    'vehicle_versions',
    'vehicle_scores',
    'letters',
    'letter_opt_outs',
    'repairs',
  ])
    expect(tables).toContain(table)
  for (const table of [
    'driver_reports',
    'intake_files',
    'workbooks',
    'plan_acts',
    'saved_views',
    'audit_lines',
  ])
    expect(tables).toContain(table)
  const scores = await scoresOf(organisation)
  expect(scores.length).toBeGreaterThan(10)

  const whole = await write(organisation, (scope) => readAuditChain(scope, null))
  if (!whole.ok) throw new Error('broken before')
  const erased = await erase(organisation)
  const { rows, lines } = erased
  ;({ mark } = erased)
  seen = whole.end
  expect(await tracesIn(organisation)).toEqual([])
  expect(mark).toMatch(/^erased-[0-9a-f]{8}$/)
  expect(rows).toMatchObject({ photographs: 1, letters: 1, intake_files: 2, workbooks: 1, plan_acts: 1 })
  expect(lines).toBeGreaterThan(3)
  expect(await scoresOf(organisation)).toEqual(scores)
  await runSql(
    adminUrl,
    `update vehicles set records_version = records_version + 1 where organisation_id = '${organisation}'`,
  )
  expect(await freshenScores(database, organisation, NOW)).toBeGreaterThan(0)
  expect(await scoresOf(organisation)).toEqual(scores)
})

test('what is not theirs stays: the next owner, their plate, numbers that look alike', async () => {
  const organisation = await erasedShop
  const vehicles = await runSql(
    adminUrl,
    `select unit, customer, contact, plate, vin from vehicles where organisation_id = '${organisation}'
     and unit in ('${theirs}', '${sold}') order by unit = '${theirs}' desc`,
  )
  const vin = fleet.records.vehicles[1]!.vin
  expect(vehicles).toEqual([
    { unit: theirs, customer: mark, contact: null, plate: null, vin: null },
    { unit: sold, customer: 'Ben Moor', contact: 'ben@post.example', plate: 'SX 1', vin },
  ])
  const [act] = await runSql(adminUrl, `select told from plan_acts where organisation_id = '${organisation}'`)
  expect(act!.told).toEqual({ whom: mark, km: 15123 })
  const files = await runSql(
    adminUrl,
    `select convert_from(content, 'UTF8') as text from intake_files where organisation_id = '${organisation}' order by name desc`,
  )
  expect(files.map(({ text }) => text)).toEqual([
    `unit,family,customer,odd\nN1,plover-22,${mark},x\nN2,plover-22,Ben Moor,y\n`,
    `unit;customer\nN3;${mark}\n`,
  ])
})

test('where vehicles go by their plates, their numbers go, too', async () => {
  const organisation = await shop('plates')
  const { mark } = await erase(organisation, true)
  const [vehicle] = await runSql(
    adminUrl,
    `select unit from vehicles where organisation_id = '${organisation}' and customer = '${mark}'`,
  )
  expect(vehicle).toEqual({ unit: `${mark}-1` })
})

test('the trail is whole, says who erased, and shows where somebody changes what was left', async () => {
  const organisation = await erasedShop
  const after = await write(organisation, (scope) => readAuditChain(scope, seen))
  expect(after).toMatchObject({ ok: true })
  const [line] = await runSql(
    adminUrl,
    `select actor, after ->> 'mark' as mark from audit_lines where organisation_id = '${organisation}' and what = 'erasures'`,
  )
  expect(line).toEqual({ actor: `person:${ANN}`, mark })
  const [emptied] = await runSql(
    adminUrl,
    `select place::int from audit_lines where organisation_id = '${organisation}' and salt is null order by place limit 1`,
  )
  await runSql(
    adminUrl,
    'alter table audit_lines disable trigger user',
    `update audit_lines set after = '{"plate": "X"}' where organisation_id = '${organisation}' and place = ${emptied!.place}`,
    'alter table audit_lines enable trigger user',
  )
  expect(await write(organisation, (scope) => readAuditChain(scope, null))).toMatchObject({
    ok: false,
    place: emptied!.place,
    reason: 'content-gone',
  })
})

test('everything known is taken out: rows, letters, lines of files; no secrets, nothing of others', async () => {
  const organisation = await shop('taken out')
  const everything = await write(organisation, (scope) => readEverythingOf(scope, NAME.toLowerCase(), NOW))
  const text = JSON.stringify(everything)
  expect(everything!.customer).toMatchObject({ letters: 1, optedOut: true })
  expect(everything!.vehicles.map(({ unit }) => unit).sort()).toEqual([theirs, sold].sort())
  expect(everything!.files).toMatchObject([
    { file: 'old.csv', lines: [`N3;${NAME}`] },
    { file: 'vehicles.csv', lines: [`N1,plover-22,${NAME},x`] },
  ])
  for (const told of ['Dear Wilma', 'says uphill', 'Mill Yard', '0151 / 23']) expect(text).toContain(told)
  for (const secret of ['content_hash', 'salt"', '\\\\x']) expect(text).not.toContain(secret)
  expect(text).not.toContain('N2,plover-22')
  expect(await write(organisation, (scope) => readEverythingOf(scope, 'Nobody', NOW))).toBeNull()
})

test('nobody erases lines but by a mark, and of their own organisation', async () => {
  const organisation = await erasedShop
  const call = (put: string) =>
    write(
      organisation,
      ({ tx }) =>
        tx.$queryRaw`select erase_from_audit(array['x'], array[${put}], gen_random_uuid(), ${put}, '{}', now(), null)`,
    )
  await expect(call('somebody else')).rejects.toThrow('Words are erased by a mark')
  await expect(
    database.$queryRaw`select erase_from_audit(array['x'], array['erased-00000000'], gen_random_uuid(), 'erased-00000000', '{}', now(), null)`,
  ).rejects.toThrow('of one organisation')
})

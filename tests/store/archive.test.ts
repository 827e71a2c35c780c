import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { runExport } from '@/lib/commands/export'
import { runImport } from '@/lib/commands/import'
import { readFiles } from '@/lib/intake/read-files'
import { writeFolder } from '@/lib/intake/write-folder'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { refitWhenDue } from '@/lib/jobs/refit'
import { parseLibrary } from '@/lib/records/library'
import { MOVED_TABLES } from '@/lib/store/moved-tables'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readPartsToWrite } from '@/lib/store/read/part-lines'
import { readRecords } from '@/lib/store/read/records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askRefit } from '@/lib/store/write/ask-refit'
import { putLibrary } from '@/lib/store/write/put-library'
import { writeLetter } from '@/lib/store/write/write-letter'
import { parseDay } from '@/lib/units/dates'
import { makeDemos } from '@/seed/demo'
import { DEMO_NAMES } from '@/seed/demo-names'
import { runSql, testDatabase } from './test-database'

const here = await testDatabase()
const there = await testDatabase()
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-archive-'))
afterAll(() => fs.rmSync(folder, { recursive: true }))
const inFolder = (...names: string[]) => path.join(folder, ...names)

const NOW = new Date('2026-03-01T12:00:00Z')
const TODAY = parseDay('2026-03-01')!

/** Runs a command against a database; its exit code and what it said. */
async function run(
  command: typeof runExport,
  { adminUrl, url }: { adminUrl: string; url: string },
  ...argv: string[]
) {
  const said: string[] = []
  const io = { write: (text: string) => said.push(text), say: (line: string) => said.push(line), now: NOW }
  const variables = { DATABASE_URL: adminUrl, DATABASE_APP_URL: url, GUDGEON_HOME: folder }
  return { code: await command(argv, variables, io), said: said.join('\n') }
}

/** The scores of every vehicle, without ids and times. */
const scoresOf = (url: string) =>
  runSql(
    url,
    `select unit, weak_point, position, horizon_days, as_of::text, p_fail::text, p_low::text, p_high::text,
       p_developing::text, remaining_km_p50::text, cost_of_waiting::text, advice, speaks
     from component_scores join vehicles on vehicles.id = vehicle_id
     order by unit, weak_point, position, horizon_days`,
  )

/** Some vehicles of the demo's dealer as a folder that somebody might have. */
function writeData(): void {
  const [demo] = makeDemos({ today: TODAY, names: DEMO_NAMES.slice(1, 2) })
  if (!demo) throw new Error('There is no second demo')
  const library = parseLibrary(demo.libraryJson)
  if (!library.ok) throw new Error('The demo’s library is not valid')
  const { records } = readFiles(demo.files, library.library, TODAY)
  const scored = records.vehicles.filter(({ status }) => status === 'active' || status === 'stock')
  const kept = new Set(scored.slice(0, 15).map(({ unit }) => unit))
  const some = Object.entries(records).map(([kind, rows]) => [
    kind,
    Array.isArray(rows) ? rows.filter(({ unit }: { unit: string }) => kept.has(unit)) : rows,
  ])
  fs.mkdirSync(inFolder('data'))
  for (const [name, bytes] of writeFolder(Object.fromEntries(some)))
    fs.writeFileSync(inFolder('data', name), bytes)
  fs.writeFileSync(inFolder('data', 'library.json'), demo.libraryJson)
  fs.writeFileSync(inFolder('data', 'parts.csv'), demo.files.get('parts.csv')!)
}

/** A second version of the library, and a reading that a person entered. */
async function haveAHistory(): Promise<void> {
  const [only] = await readOrganisations(here.database)
  const library = fs.readFileSync(inFolder('data', 'library.json'), 'utf8')
  await withOrganisation(
    here.database,
    organisationId(only!.id),
    async (scope) => {
      await putLibrary(scope, { content: `${library}\n`, now: NOW })
      await scope.tx.$executeRaw`
        update readings set entered_by = (select id from people where name = 'Owner')
        where sequence = (select min(sequence) from readings)`
    },
    'write',
  )
}

/** What the records teach is in force, and every score rests on it. */
async function haveLearned(): Promise<void> {
  const [only] = await readOrganisations(here.database)
  const organisation = organisationId(only!.id)
  const ask = (scope: OrganisationScope) => askRefit(scope, { by: null, now: NOW })
  await withOrganisation(here.database, organisation, ask, 'write')
  await refitWhenDue(here.database, organisation, () => NOW)
  expect(await freshenScores(here.database, organisation, NOW)).toBe(15)
}

describe('an organisation as an archive', { timeout: 240_000 }, () => {
  writeData()

  test('is taken in, exported, and taken in elsewhere with the same scores to the last digit', async () => {
    const data = await run(runImport, here, '--from', inFolder('data'), '--name', 'Here')
    expect(data).toMatchObject({ code: 0 })
    await haveAHistory()
    await haveLearned()
    const archive = inFolder('here.zip')
    expect(await run(runExport, here, '--organisation', 'Here', '--out', archive)).toMatchObject({ code: 0 })
    expect(await run(runImport, there, '--from', archive, '--name', 'There')).toMatchObject({ code: 0 })

    const scores = await scoresOf(here.adminUrl)
    expect(scores.length).toBeGreaterThan(500)
    expect(await scoresOf(there.adminUrl)).toEqual(scores)
  })

  test('has the same records again, and its library as it was written', async () => {
    const read = async ({ database }: typeof here) => {
      const [only] = await readOrganisations(database)
      const records = await withOrganisation(database, organisationId(only!.id), readRecords)
      return JSON.stringify(records, (key, value) => (key === 'line' ? undefined : value))
    }
    expect(await read(there)).toBe(await read(here))
    const parts = async ({ database }: typeof here) => {
      const [only] = await readOrganisations(database)
      return withOrganisation(database, organisationId(only!.id), readPartsToWrite)
    }
    const own = await parts(here)
    expect(own.length).toBeGreaterThan(20)
    expect(await parts(there)).toEqual(own)
    const versions = await runSql(
      there.adminUrl,
      'select version, in_force, content::text as content, entered_at from libraries order by version',
    )
    const library = fs.readFileSync(inFolder('data', 'library.json'), 'utf8')
    expect(versions).toMatchObject([
      { version: 1, in_force: false, content: library, entered_at: NOW },
      { version: 2, in_force: true, content: `${library}\n` },
    ])
  })

  test('is the same archive again when it is exported where it arrived, files and rows', async () => {
    expect(
      await run(runExport, here, '--organisation', 'Here', '--out', inFolder('again-here')),
    ).toMatchObject({ code: 0 })
    expect(
      await run(runExport, there, '--organisation', 'There', '--out', inFolder('again-there')),
    ).toMatchObject({ code: 0 })
    const names = fs.readdirSync(inFolder('again-here'))
    expect(fs.readdirSync(inFolder('again-there'))).toEqual(names)
    const read = (place: string, name: string) => fs.readFileSync(inFolder(place, name), 'utf8')
    for (const name of names.filter((each) => each !== 'archive.json'))
      expect(read('again-there', name) === read('again-here', name), name).toBe(true)
    const contents = (place: string) => {
      const { organisation, ...rest } = JSON.parse(read(place, 'archive.json'))
      return rest
    }
    expect(contents('again-there')).toEqual(contents('again-here'))
    expect(contents('again-here').people).toMatchObject([{ name: 'Owner' }])
  })

  test('written before there were rows in it goes in by its files', async () => {
    const old = inFolder('old')
    fs.cpSync(inFolder('again-here'), old, { recursive: true })
    const contents = JSON.parse(fs.readFileSync(path.join(old, 'archive.json'), 'utf8'))
    for (const name of fs.readdirSync(old).filter((each) => each.startsWith('table-'))) {
      fs.rmSync(path.join(old, name))
      delete contents.sha256[name]
    }
    delete contents.people
    fs.writeFileSync(path.join(old, 'archive.json'), JSON.stringify(contents))
    const place = await testDatabase()
    const taken = await run(runImport, place, '--from', old, '--name', 'Old')
    expect(taken).toMatchObject({ code: 0, said: expect.stringContaining('no plan, proposals, letters') })
    expect(await scoresOf(place.adminUrl)).toEqual(await scoresOf(here.adminUrl))
  })

  test('keeps what was written to customers: nobody is written to again before the days are over', async () => {
    const write = ({ database }: typeof here, daysLater: number) =>
      readOrganisations(database).then(([only]) =>
        withOrganisation(
          database,
          organisationId(only!.id),
          async (scope) => {
            const [first] = (await readRecords(scope)).vehicles
            await scope.tx.$executeRaw`update vehicles set customer = 'Ann Ling' where unit = ${first!.unit}`
            const what = { jobs: [], content: 'Dear Ann Ling', proposalActs: [], letterEveryDays: 90 }
            const letter = { unit: first!.unit, customer: 'Ann Ling', ...what, today: TODAY + daysLater }
            return writeLetter(scope, letter, { now: NOW, by: null })
          },
          'write',
        ),
      )
    expect(await write(here, 0)).toMatchObject({ ok: true })
    const place = await testDatabase()
    const archive = inFolder('letters.zip')
    await run(runExport, here, '--organisation', 'Here', '--out', archive)
    expect(await run(runImport, place, '--from', archive, '--name', 'Arrived')).toMatchObject({ code: 0 })
    expect(await write(place, 89)).toMatchObject({ ok: false })
    expect(await write(place, 90)).toMatchObject({ ok: true })
  })

  test('goes into a folder too, and an owner comes with it', async () => {
    const out = inFolder('out')
    expect(await run(runExport, here, '--organisation', 'Here', '--out', out)).toMatchObject({ code: 0 })
    expect(fs.readdirSync(out).sort()).toEqual(
      [
        ...['archive.json', 'settings.json', 'fit.json', 'library-1.json', 'library.json', 'parts.csv'],
        ...['vehicles', 'readings', 'codes', 'checks', 'repairs', 'changes'].map((kind) => `${kind}.csv`),
        ...['entered.csv', 'intakes.csv', 'stop-notices.csv'],
        ...Object.keys(MOVED_TABLES).map((table) => `table-${table}.jsonl`),
      ].sort(),
    )
    const entered = fs.readFileSync(path.join(out, 'entered.csv'), 'utf8').trim().split('\r\n')
    const rows = ['vehicles', 'readings', 'codes', 'checks', 'repairs', 'changes'].map(
      (kind) =>
        fs
          .readFileSync(path.join(out, `${kind}.csv`), 'utf8')
          .trim()
          .split('\r\n').length - 1,
    )
    expect(entered).toHaveLength(1 + rows.reduce((sum, count) => sum + count, 0))
    expect(entered.slice(0, 2)).toEqual([
      'file,row,entered_at,entered_by',
      `vehicles.csv,1,${NOW.toISOString()},`,
    ])
    expect(entered.find((line) => line.startsWith('readings.csv,1,'))).toBe(
      `readings.csv,1,${NOW.toISOString()},Owner`,
    )
    expect(await run(runExport, here, '--organisation', 'Here', '--out', out)).toMatchObject({
      code: 2,
      said: expect.stringContaining('is not empty'),
    })
    const [owner] = await runSql(
      there.adminUrl,
      'select people.name, role from memberships join people on people.id = person_id',
    )
    expect(owner).toEqual({ name: 'Owner', role: 'owner' })
  })

  test('is refused with one clear line where it cannot be taken in', async () => {
    const archive = inFolder('here.zip')
    const refused = async (pattern: RegExp, ...argv: string[]) => {
      const { code, said } = await run(runImport, there, ...argv)
      expect(said).toMatch(pattern)
      expect(code).toBe(2)
    }
    await refused(/organisation of that name already/, '--from', archive, '--name', 'There')
    await refused(/is not there/, '--from', inFolder('none.zip'), '--name', 'New')
    await refused(/required option '--name/, '--from', archive)
    const half = inFolder('half.zip')
    fs.copyFileSync(archive, half)
    fs.truncateSync(half, fs.statSync(archive).size - 100)
    await refused(/no archive that can be read/, '--from', half, '--name', 'New')
    const none = await run(runExport, here, '--organisation', 'Nobody', '--out', inFolder('x.zip'))
    expect(none).toMatchObject({ code: 2, said: expect.stringContaining('there are: "Here"') })
    expect(await readOrganisations(there.database)).toHaveLength(1)
  })

  test('with a row that is rejected: the rest goes in, the row is handed back; with --strict nothing does', async () => {
    const vehicles = inFolder('data', 'vehicles.csv')
    fs.appendFileSync(vehicles, ',,,,active,,plover-16\r\n')
    const strict = await run(runImport, there, '--from', inFolder('data'), '--name', 'Strict', '--strict')
    expect(strict).toMatchObject({ code: 1, said: expect.stringContaining('1 rows were rejected') })
    expect(fs.readFileSync(inFolder('data', 'rejected', 'vehicles.csv'), 'utf8')).toContain('unit')
    expect((await readOrganisations(there.database)).map(({ name }) => name)).toEqual(['There'])
    expect(await run(runImport, there, '--from', inFolder('data'), '--name', 'Rest')).toMatchObject({
      code: 0,
    })
  })
})

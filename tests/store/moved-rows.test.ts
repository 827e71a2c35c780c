import { beforeAll, describe, expect, test } from 'vitest'
import { makeMoved } from '@/lib/commands/inner/make-filled'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { MOVED_TABLES, type MovedRows, STAYING_TABLES } from '@/lib/store/moved-tables'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readAnyPassword } from '@/lib/store/read/any-password'
import { readLetters, readOptOuts } from '@/lib/store/read/letters'
import { readMovedRows } from '@/lib/store/read/moved-rows'
import { readNamesOf } from '@/lib/store/read/names-of'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readPeopleWithoutPassword } from '@/lib/store/read/people-without-password'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { MoveRefusal } from '@/lib/store/write/put-moved-rows'
import { ANN, addAnn, fillEveryTable } from './every-table'
import { EXAMPLE, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const here = await testDatabase()
const there = await testDatabase()

let ours: OrganisationId
let moved: MovedRows
beforeAll(async () => {
  await addAnn(here.adminUrl)
  ours = await fillEveryTable(here, 'ours')
  await runSql(here.adminUrl, `update saved_views set made_by = ${ANN}`)
  // Somebody who was corrected: rows that do not stand any more go along.
  await runSql(
    here.adminUrl,
    `update readings set withdrawn_at = now(), withdrawn_by = ${ANN} where sequence = (select min(sequence) from readings)`,
  )
  moved = await read(here, ours)
})

const read = ({ database }: typeof here, organisation: OrganisationId) =>
  withOrganisation(database, organisation, readMovedRows, 'whole')

const arrive = (name: string, rows: MovedRows, { database } = there) =>
  makeMoved(database, { name, settings: DEFAULT_SETTINGS, owner: { name: 'Bo' }, now: NOW }, rows)

describe('an organisation that moves', () => {
  test('takes each of its tables along, or there is a reason why it stays', async () => {
    const tables = await runSql(
      here.adminUrl,
      `select relname as name from pg_class join pg_attribute on attrelid = pg_class.oid
       where attname = 'organisation_id' and relkind in ('r', 'p') and not relispartition and not attisdropped
         and relnamespace = 'public'::regnamespace`,
    )
    expect(Object.keys({ ...MOVED_TABLES, ...STAYING_TABLES }).sort()).toEqual(
      tables.map(({ name }) => name).sort(),
    )
    expect(Object.keys(MOVED_TABLES).filter((name) => Object.hasOwn(STAYING_TABLES, name))).toEqual([])
    for (const reason of Object.values(STAYING_TABLES)) expect(reason.split(' ').length).toBeGreaterThan(2)
  })

  test('has every row again, to the last byte, and in the order in which they came', async () => {
    for (const { name, rows } of moved.tables) expect([name, rows.length > 0]).toEqual([name, true])
    const arrived = await arrive('round', moved)
    const again = await read(there, arrived!)
    expect(JSON.stringify(again)).toBe(JSON.stringify(moved))
    const records = ({ database }: typeof here, organisation: OrganisationId) =>
      withOrganisation(database, organisation, async (scope) => {
        const { settings, ...rows } = await readRecords(scope)
        return rows
      })
    expect(await records(there, arrived!)).toEqual(await records(here, ours))
  })

  test('leaves no column behind but those that are named', async () => {
    for (const { name, columns } of moved.tables) {
      const all = await runSql(
        here.adminUrl,
        `select attname as name from pg_attribute where attrelid = '${name}'::regclass and attnum > 0
           and not attisdropped and attgenerated = '' and attname <> 'organisation_id'`,
      )
      const expected = all.map((column) => column.name)
      expect([name, [...columns, ...MOVED_TABLES[name]!].sort()]).toEqual([name, expected.sort()])
    }
  })

  test('counts on after what came along, and knows letters and who wants none', async () => {
    const arrived = (await arrive('counting', moved))!
    const later = { ...EXAMPLE.readings[0]!, odometerKm: 99, line: 9 }
    await withOrganisation(
      there.database,
      arrived,
      async (scope) => {
        const before = (await readRecords(scope)).readings
        await addRecords(scope, { ...EXAMPLE, readings: [later] }, { now: NOW, by: null })
        expect((await readRecords(scope)).readings).toEqual([...before, later])
        expect(await readLetters(scope)).toHaveLength(1)
        expect(await readOptOuts(scope)).toMatchObject([{ customerKey: 'ann' }])
      },
      'write',
    )
  })

  test('says who did what, and lets nobody in for it', async () => {
    const arrived = (await arrive('named', moved))!
    const ann = ANN.slice(1, -1)
    const names = await withOrganisation(there.database, arrived, (scope) => readNamesOf(scope, [ann]))
    expect(names.get(ann)).toBe('Ann')
    const atTheDoor = (await readPeopleWithoutPassword(there.database)).map(({ name }) => name)
    expect(atTheDoor).not.toContain('Ann')
    expect(atTheDoor).toContain('Bo')
    expect(await readAnyPassword(there.database)).toBe(false)
  })

  test('of a later version is refused by name, and rows that do not fit leave nothing behind', async () => {
    const before = (await readOrganisations(there.database)).length
    const [first, ...others] = moved.tables
    const more = { ...first!, columns: first!.columns.with(0, 'colour') }
    await expect(arrive('later', { ...moved, tables: [more, ...others] })).rejects.toThrow(
      new MoveRefusal(
        'the archive is of a later version of Gudgeon, with libraries.colour: take it in with that one',
      ),
    )
    const wrong = moved.tables.map((table) =>
      table.name === 'letters' ? { ...table, rows: table.rows.map((row) => row.with(0, 'no id')) } : table,
    )
    await expect(arrive('wrong', { ...moved, tables: wrong })).rejects.toThrow(
      /the rows of letters cannot be taken in: .*uuid/,
    )
    const memberships = { name: 'memberships', columns: [], rows: [] }
    await expect(arrive('member', { ...moved, tables: [memberships] })).rejects.toThrow(MoveRefusal)
    expect(await readOrganisations(there.database)).toHaveLength(before)
  })
})

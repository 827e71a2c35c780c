import { describe, expect, test } from 'vitest'
import { sharedFamily, writtenFamily } from '@/lib/intake/written-family'
import { openTaking } from '@/lib/jobs/open-taking'
import { beginTakingIn, chooseFamilyTaken, putVersionAgain, takeInFamily } from '@/lib/jobs/take-in-family'
import { type Family, type Library, parseLibrary } from '@/lib/records/library'
import type { Side } from '@/lib/records/merge-family'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readBegunTakings, readTakenFamilies } from '@/lib/store/read/family-takings'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readLibraryVersions } from '@/lib/store/read/library-versions'
import { readSettings } from '@/lib/store/read/settings'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { changeLibrary } from '@/lib/store/write/change-library'
import { decideTaking } from '@/lib/store/write/family-taking'
import { putTerms } from '@/lib/store/write/put-terms'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { anOrganisation, NOW } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()
const by = '00000000-0000-7000-8000-000000000001'
const act = { now: NOW, by }

const write = <T>(organisation: OrganisationId, work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')

type Written = (typeof EXAMPLE_LIBRARY)['families'][number]
type Point = Written['weakPoints'][number]

/** Theirs, with other amounts in it than the example's. */
function fileOf(injector: Partial<Point> = {}, change: object = {}): string {
  const [family] = EXAMPLE_LIBRARY.families as [Written]
  const [first, ...others] = family.weakPoints as [Point, ...Point[]]
  const families = [{ ...family, weakPoints: [{ ...first, ...injector }, ...others] }]
  const priced = { ...EXAMPLE_LIBRARY, name: 'Reed & Sedge', labourRate: 999, dayOffRoad: 998, visit: 997 }
  return JSON.stringify({ ...priced, families, ...change })
}

async function inForce(organisation: OrganisationId): Promise<Library> {
  const stored = await withOrganisation(database, organisation, readLibraryInForce)
  const parsed = parseLibrary(stored?.content ?? '')
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  return parsed.library
}

const ours = async (organisation: OrganisationId): Promise<Family> =>
  (await inForce(organisation)).families.find(({ key }) => key === 'plover-22')!

const injectorOf = (family: Family) => family.weakPoints.find(({ key }) => key === 'injector')

/** Goes the whole way of one file. @param decide what each conflict is decided for */
async function takeIn(organisation: OrganisationId, file: string, decide: Side = 'mine', key = 'plover-22') {
  const begun = await write(organisation, (scope) => beginTakingIn(scope, { file, ...act }))
  if (!begun.ok) throw new Error(begun.errors[0]?.message)
  const { id } = begun
  const chosen = await write(organisation, (scope) =>
    chooseFamilyTaken(scope, { id, chosen: 'plover-22', key }),
  )
  expect(chosen).toEqual({ ok: true })
  return write(organisation, async (scope) => {
    const changes = (await openTaking(scope, id))?.chosen?.merged?.changes ?? []
    const conflicts = changes.filter((change) => change.by === 'both')
    const choices = Object.fromEntries(conflicts.map((conflict) => [conflict.id, decide]))
    await decideTaking(scope, { id, choices })
    const { errors, seal = '', before = null } = (await openTaking(scope, id))?.chosen ?? {}
    return { changes, errors, before, taken: await takeInFamily(scope, { id, seal, ...act }) }
  })
}

/** Changes an own statement in force. */
async function edit(organisation: OrganisationId, change: Partial<Family['weakPoints'][number]>) {
  const library = await inForce(organisation)
  const families = library.families.map((family) =>
    writtenFamily({
      ...family,
      weakPoints: family.weakPoints.map((point) =>
        point.key === 'injector' ? { ...point, ...change } : point,
      ),
    }),
  )
  const content = JSON.stringify({ ...library, families })
  expect(await write(organisation, (scope) => changeLibrary(scope, { content, ...act }))).toMatchObject({
    ok: true,
  })
}

describe('a family of somebody else’s file', () => {
  test('is added where there is none, under the key that it shall have, with none of their prices', async () => {
    const organisation = await anOrganisation(database, 'Adds')
    const { taken, changes } = await takeIn(organisation, fileOf(), 'mine', 'p-22')
    expect([taken, changes]).toEqual([{ ok: true, family: 'p-22', version: 1 }, []])
    const library = await inForce(organisation)
    expect(library.families.map(({ key }) => key)).toEqual(['p-22'])
    expect([library.labourRate, library.dayOffRoad, library.visit]).toEqual([0, 0, 0])
    expect(library.looks.scan.hours).toBe(0.3)
    const [version] = await withOrganisation(database, organisation, readLibraryVersions)
    expect(version?.note).toBe('Plover 2.2 taken in from “Reed & Sedge”')
    expect(await withOrganisation(database, organisation, readBegunTakings)).toEqual([])
    expect(await withOrganisation(database, organisation, readTakenFamilies)).toMatchObject([
      { key: 'p-22', source: 'Reed & Sedge', libraryVersion: 1 },
    ])
  })

  test('is merged over what was taken in before; own parts prices and settings stay as they are', async () => {
    const organisation = await anOrganisation(database, 'Merges')
    const prices = { labourRate: 95, dayOffRoad: 130, visit: 55, looks: { scan: { hours: 0.5 } } }
    await write(organisation, (scope) => putTerms(scope, { name: 'Merges', settings: prices }))
    await takeIn(organisation, fileOf())
    const settings = await withOrganisation(database, organisation, readSettings)
    expect(settings).toMatchObject(prices)
    const cost = { ...EXAMPLE_LIBRARY.families[0]!.weakPoints[0]!.cost!, parts: 210 }
    await edit(organisation, { cost, warning: 5000 })
    const theirs = fileOf({ cost: { ...cost, parts: 195 }, warning: 9000, part: 'INJ-23' })
    const { changes, before, taken } = await takeIn(organisation, theirs)
    expect(before?.libraryVersion).toBe(1)
    expect(changes.map(({ by, fields }) => [fields[0]?.field, by])).toEqual([
      ['warning', 'both'],
      ['cost.parts', 'both'],
      ['part', 'theirs'],
    ])
    expect(taken).toMatchObject({ ok: true })
    expect(injectorOf(await ours(organisation))).toMatchObject({
      warning: 5000,
      part: 'INJ-23',
      cost: { parts: 210 },
    })
    // What was decided is decided: the same file again has nothing that anybody has to decide.
    const again = await takeIn(organisation, theirs)
    expect(again.changes.map(({ by }) => by)).toEqual(['mine', 'mine'])
    expect(await withOrganisation(database, organisation, readSettings)).toEqual(settings)
    // Nor do prices go out again with what is shared, or into the library.
    const library = await inForce(organisation)
    expect(library.labourRate).toBe(0)
    const priced = { ...library, labourRate: 77, dayOffRoad: 78, visit: 79 }
    expect(sharedFamily(priced, await ours(organisation), 'EUR')).not.toMatch(
      /labourRate|dayOffRoad|visit|looks|7[789]/,
    )
  })

  test('asks about every difference where nothing was taken in from there, and does as is decided', async () => {
    const organisation = await anOrganisation(database, 'Two ways')
    await write(organisation, (scope) => changeLibrary(scope, { content: fileOf({ warning: 5000 }), ...act }))
    const { changes, before } = await takeIn(organisation, fileOf({ part: 'INJ-23' }), 'theirs')
    expect([before, changes.map(({ by }) => by)]).toEqual([null, ['both', 'both']])
    expect(injectorOf(await ours(organisation))).toMatchObject({ warning: 8000, part: 'INJ-23' })
    // Another file has another past.
    expect((await takeIn(organisation, fileOf({}, { name: 'Others' }))).before).toBeNull()
  })

  test('goes back with the version, and then rests on what was there before', async () => {
    const organisation = await anOrganisation(database, 'Back')
    await takeIn(organisation, fileOf())
    await takeIn(organisation, fileOf({ warning: 9000 }))
    const again = await write(organisation, (scope) => putVersionAgain(scope, { version: 1, ...act }))
    expect(again).toEqual({ ok: true, version: 3 })
    expect(injectorOf(await ours(organisation))?.warning).toBe(8000)
    const { before, changes } = await takeIn(organisation, fileOf({ warning: 9000 }))
    expect([before?.libraryVersion, changes.map(({ by }) => by)]).toEqual([1, ['theirs']])
    expect(await write(organisation, (scope) => putVersionAgain(scope, { version: 99, ...act }))).toBeNull()
  })

  test('keeps what records name, retired, where theirs drops it', async () => {
    const organisation = await anOrganisation(database, 'Keeps')
    await takeIn(organisation, fileOf())
    const records = recordsOf({
      vehicles: [vehicleRow({ unit: 'A', family: 'plover-22' })],
      repairs: [repairRow({ unit: 'A', doneOn: 20_000, weakPoint: 'pump-gasket' })],
    })
    await write(organisation, (scope) => addRecords(scope, records, { now: NOW, by: null }))
    const [family] = EXAMPLE_LIBRARY.families as [Written]
    const weakPoints = family.weakPoints.filter(({ key }) => key === 'injector')
    const signs = family.signs.filter(({ key }) => key === 'misfire')
    const { taken } = await takeIn(
      organisation,
      fileOf({}, { families: [{ ...family, weakPoints, signs, upstream: [] }] }),
    )
    expect(taken).toMatchObject({ ok: true })
    const left = await ours(organisation)
    expect(left.weakPoints.map(({ key, retired }) => [key, retired])).toEqual([
      ['injector', false],
      ['pump-gasket', true],
    ])
  })

  test('is refused, and nothing kept, where the file is bad; where its amounts are in another currency', async () => {
    const organisation = await anOrganisation(database, 'Refuses')
    const bad = fileOf({ warning: -1 })
    const begun = await write(organisation, (scope) => beginTakingIn(scope, { file: bad, ...act }))
    expect(begun).toMatchObject({
      ok: false,
      errors: [{ place: 'families[plover-22].weakPoints[injector].warning' }],
    })
    expect(await withOrganisation(database, organisation, readBegunTakings)).toEqual([])
    await write(organisation, (scope) =>
      changeLibrary(scope, { content: fileOf({}, { currency: 'EUR' }), ...act }),
    )
    const { errors, taken } = await takeIn(organisation, fileOf({ part: 'X' }, { currency: 'CHF' }), 'theirs')
    expect(errors?.[0]?.message).toContain('found CHF, but the organisation’s is EUR')
    expect(taken).toMatchObject({ ok: false, reason: 'invalid' })
    expect(injectorOf(await ours(organisation))?.part).toBe('INJ-22')
    const free = JSON.parse(fileOf({ part: 'X', cost: undefined }, { currency: 'CHF' }))
    expect((await takeIn(organisation, JSON.stringify(free), 'mine')).taken).toMatchObject({ ok: true })
  })

  test('is not put in force where others changed it since it was shown', async () => {
    const organisation = await anOrganisation(database, 'Meanwhile')
    await takeIn(organisation, fileOf())
    const begun = await write(organisation, (scope) =>
      beginTakingIn(scope, { file: fileOf({ part: 'X' }), ...act }),
    )
    if (!begun.ok) throw new Error('refused')
    const { id } = begun
    await write(organisation, (scope) =>
      chooseFamilyTaken(scope, { id, chosen: 'plover-22', key: 'plover-22' }),
    )
    const shown = await write(organisation, (scope) => openTaking(scope, id))
    await edit(organisation, { warning: 1 })
    const { seal = '' } = shown?.chosen ?? {}
    expect(await write(organisation, (scope) => takeInFamily(scope, { id, seal, ...act }))).toEqual({
      ok: false,
      reason: 'changed-meanwhile',
    })
    expect(injectorOf(await ours(organisation))).toMatchObject({ part: 'INJ-22', warning: 1 })
  })

  test('has no key that would be another page’s, and none with a space', async () => {
    const organisation = await anOrganisation(database, 'Keys')
    const begun = await write(organisation, (scope) => beginTakingIn(scope, { file: fileOf(), ...act }))
    if (!begun.ok) throw new Error('refused')
    const { id } = begun
    for (const key of ['take-in', 'a b', '', '..']) {
      const chosen = await write(organisation, (scope) =>
        chooseFamilyTaken(scope, { id, chosen: 'plover-22', key }),
      )
      expect(chosen).toEqual({ ok: false, reason: 'no-key' })
    }
  })
})

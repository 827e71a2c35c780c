import { expect, test } from 'vitest'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import { familyKeysIn, withEngine } from '@/lib/intake/family-draft'
import { beginDraft } from '@/lib/jobs/begin-draft'
import { positionsLost } from '@/lib/jobs/positions-lost'
import { putDraftInForce } from '@/lib/jobs/put-draft-in-force'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readAskedReplays } from '@/lib/store/read/asked-replays'
import { readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { askDraftReplay, askReplay } from '@/lib/store/write/ask-replay'
import { beginLibraryDraft, dropLibraryDraft } from '@/lib/store/write/library-draft'
import { checkRow, codeRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { anOrganisation, NOW } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()
const LATER = new Date(NOW.getTime() + 60_000)
const by = '00000000-0000-7000-8000-000000000001'

const read = <T>(organisation: OrganisationId, question: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, question)
const write = <T>(organisation: OrganisationId, act: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, act, 'write')

const begin = (organisation: OrganisationId, name: string, key: string | null = null) =>
  write(organisation, (scope) =>
    beginDraft(scope, { family: { ...EXAMPLE_FAMILY, name }, key, called: name, now: NOW, by }),
  )

async function begun(organisation: OrganisationId, name: string): Promise<string> {
  const draft = await begin(organisation, name)
  if (!draft.ok) throw new Error(draft.errors[0]?.message)
  return draft.id
}

const put = (organisation: OrganisationId, id: string) =>
  write(organisation, (scope) => putDraftInForce(scope, { id, sure: false, now: LATER, by }))

const keysInForce = async (organisation: OrganisationId) => {
  const inForce = await read(organisation, readLibraryInForce)
  return inForce ? familyKeysIn(inForce.content) : []
}

test('of drafts that are put in force at once none is lost', async () => {
  const organisation = await anOrganisation(database, 'At once')
  const names = ['one', 'two', 'three', 'four']
  const drafts = []
  for (const name of names) drafts.push(await begun(organisation, name))
  const results = await Promise.all(drafts.map((id) => put(organisation, id)))
  expect(results).toEqual(names.map((family) => ({ ok: true, family })))
  expect((await keysInForce(organisation)).sort()).toEqual([...names].sort())
  expect(await read(organisation, readLibraryDrafts)).toEqual([])
})

test('of one draft that is put in force twice at once, the second is told that it is gone', async () => {
  const organisation = await anOrganisation(database, 'Twice')
  const id = await begun(organisation, 'one')
  const results = await Promise.all([put(organisation, id), put(organisation, id)])
  expect(results).toContainEqual({ ok: true, family: 'one' })
  expect(results).toContainEqual({ ok: false, reason: 'gone' })
})

test('drafts of one name have keys of their own, begun at once too, and beside what is in force', async () => {
  const organisation = await anOrganisation(database, 'Names')
  await put(organisation, await begun(organisation, 'Plover'))
  await Promise.all([1, 2, 3].map(() => begun(organisation, 'Plover')))
  const drafts = await read(organisation, readLibraryDrafts)
  const keys = drafts.map(({ family }) => (family as { key: string }).key)
  expect(keys.sort()).toEqual(['plover-2', 'plover-3', 'plover-4'])
})

test('an engine that vehicles name is begun once', async () => {
  const organisation = await anOrganisation(database, 'Named')
  expect(await begin(organisation, 'Mine', 'theirs')).toMatchObject({ ok: true })
  expect(await begin(organisation, 'Mine', 'theirs')).toEqual({
    ok: false,
    errors: [
      { field: null, message: 'Somebody has begun to state this engine already: go on with what is begun.' },
    ],
  })
  const [draft] = await read(organisation, readLibraryDrafts)
  expect(await put(organisation, draft!.id)).toEqual({ ok: true, family: 'theirs' })
  expect(await begin(organisation, 'Mine', 'theirs')).toEqual({
    ok: false,
    errors: [{ field: null, message: 'This engine is described already: open it and change it there.' }],
  })
})

test('a draft that is dropped or put in force is not tried any more; other replays go on', async () => {
  const organisation = await anOrganisation(database, 'Trials')
  const [dropped, made, kept] = [
    await begun(organisation, 'dropped'),
    await begun(organisation, 'made'),
    await begun(organisation, 'kept'),
  ]
  for (const draft of [dropped, made, kept])
    await write(organisation, (scope) => askDraftReplay(scope, { draft, by, now: NOW }))
  await write(organisation, (scope) => askReplay(scope, { by, now: NOW }))
  await write(organisation, (scope) => dropLibraryDraft(scope, { id: dropped, now: LATER }))
  await put(organisation, made)
  const asked = await read(organisation, readAskedReplays)
  expect(asked.map(({ draft }) => draft).sort()).toEqual([kept, null].sort())
  const ended = await read(
    organisation,
    ({ tx }) => tx.$queryRaw`select state, finished_at as "at" from jobs where state <> 'running'`,
  )
  expect(ended).toEqual([
    { state: 'stopped', at: LATER },
    { state: 'stopped', at: LATER },
  ])
})

test('a draft that takes positions away which records name is not put in force, until the records are mended', async () => {
  const organisation = await anOrganisation(database, 'Positions')
  await put(organisation, await begun(organisation, 'Wagtail'))
  const records = recordsOf({
    vehicles: [vehicleRow({ unit: 'V1', family: 'wagtail' })],
    repairs: [repairRow({ unit: 'V1', weakPoint: 'ignition-coil', positions: [3, 4], doneOn: 20_000 })],
    checks: [
      checkRow({ unit: 'V1', kind: 'scan', checkedOn: 20_000, seen: [{ sign: 'misfire', position: 4 }] }),
    ],
    codes: [codeRow({ unit: 'V1', code: 'P0304', seenOn: 20_000 })],
  })
  await write(organisation, (scope) => addRecords(scope, records, { now: NOW, by: null }))
  const family = { ...EXAMPLE_FAMILY, key: 'wagtail' }
  const asking = { name: 'Wagtail', access: [] }
  const fewer = withEngine(family, { ...asking, cylinders: 3 })
  const lost = await read(organisation, (scope) => positionsLost(scope, family, fewer))
  expect(lost).toBe(
    'Records name what there would not be any more: “Misfire on one cylinder” at position 4 (2 records), ' +
      'Ignition coil at position 4 (1 record). Correct them first, or leave as many as there are.',
  )
  const more = withEngine(family, { ...asking, cylinders: 6 })
  expect(await read(organisation, (scope) => positionsLost(scope, family, more))).toBeNull()
  expect(await read(organisation, (scope) => positionsLost(scope, more, family))).toBeNull()

  const id = await write(organisation, (scope) => beginLibraryDraft(scope, { family: fewer, now: LATER, by }))
  expect(await put(organisation, id)).toEqual({ ok: false, reason: 'positions-in-use', sentence: lost })
  await write(
    organisation,
    ({ tx }) => tx.$executeRaw`update vehicles set withdrawn_at = now() where unit = 'V1'`,
  )
  expect(await put(organisation, id)).toEqual({ ok: true, family: 'wagtail' })
})

/** Letters in the store: kept as written, undone, not twice to one customer; who wants none; whose a vehicle is now. */
import { expect, test } from 'vitest'
import { standingOf } from '@/lib/decisions/proposals'
import { customerKey } from '@/lib/records/customer-key'
import { readCallVehicles } from '@/lib/store/read/call-vehicles'
import { readLetters, readOptOuts } from '@/lib/store/read/letters'
import { readProposals } from '@/lib/store/read/proposals'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal } from '@/lib/store/write/act-on-proposal'
import { addRecords } from '@/lib/store/write/add-records'
import { changeVehicle } from '@/lib/store/write/change-vehicle'
import { makeProposals } from '@/lib/store/write/make-proposals'
import { optOut, undoOptOut } from '@/lib/store/write/opt-out'
import { putLibrary } from '@/lib/store/write/put-library'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { undoLetter, writeLetter } from '@/lib/store/write/write-letter'
import { dayIn } from '@/lib/units/dates'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from './example-scores'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const TODAY = dayIn('UTC', NOW)
const UNIT = 'B-2'
const by = { now: NOW, by: null }
const later = (days: number) => ({ now: new Date(NOW.getTime() + days * 86_400_000), by: null })
const LETTER = {
  ...{ unit: UNIT, customer: 'Ann  Field', jobs: [{ weakPoint: 'injector', positions: [1] }] },
  ...{ content: 'Dear Ann', proposalActs: [], today: TODAY, letterEveryDays: 90 },
}

async function withVehicles(name: string) {
  const organisation = await anOrganisation(database, name)
  const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await act((scope) => addRecords(scope, EXAMPLE, by))
  return act
}

test('a letter is kept as it was written, and goes to no customer twice within the days between, however the name is written', async () => {
  const act = await withVehicles('written')
  expect(await act((scope) => writeLetter(scope, LETTER, by))).toMatchObject({ ok: true })
  const [kept] = await act(readLetters)
  expect(kept).toMatchObject({
    unit: UNIT,
    customer: 'Ann  Field',
    content: 'Dear Ann',
    writtenOn: TODAY,
    jobs: LETTER.jobs,
  })
  const again = { ...LETTER, unit: 'B-10', customer: ' ann field' }
  const tooSoon = { ...again, today: TODAY + 89 }
  expect(await act((scope) => writeLetter(scope, tooSoon, later(89)))).toEqual({
    ...{ ok: false, reason: 'written-lately', on: TODAY },
  })
  expect(await act((scope) => writeLetter(scope, { ...again, customer: 'Bo' }, by))).toMatchObject({
    ok: true,
  })
  const inTime = { ...again, today: TODAY + 90 }
  expect(await act((scope) => writeLetter(scope, inTime, later(90)))).toMatchObject({ ok: true })
})

test('of two who press at once, one writes', async () => {
  const act = await withVehicles('at once')
  const sent = await Promise.all([1, 2, 3].map(() => act((scope) => writeLetter(scope, LETTER, by))))
  expect(sent.filter(({ ok }) => ok)).toHaveLength(1)
  expect(await act(readLetters)).toHaveLength(1)
})

test('a letter that is taken back may be written again, and its jobs are told no more, unless something came of them', async () => {
  const act = await withVehicles('undone')
  const job = {
    ...{ weakPoint: 'injector', positions: [1], chances: [], advice: 'book' as const, costOfWaiting: 1 },
    ...{ price: 1, hours: 1, saving: null, evidence: '' },
  }
  const making = { unit: UNIT, asOf: TODAY, today: TODAY, horizonDays: 90, ...by }
  const ids = (await act((scope) => makeProposals(scope, [job, { ...job, weakPoint: 'pump' }], making)))!
  const tell = async (id: string) => {
    const told = await act((scope) =>
      actOnProposal(scope, id, { act: 'told', whom: 'Ann', how: 'letter' }, by),
    )
    if (!told.ok) throw new Error('it may be told')
    return told.id
  }
  const proposalActs = [await tell(ids[0]!), await tell(ids[1]!)]
  const written = await act((scope) => writeLetter(scope, { ...LETTER, proposalActs }, by))
  if (!written.ok) throw new Error('it may be written')
  await act((scope) => actOnProposal(scope, ids[1]!, { act: 'accepted' }, later(1)))
  expect(await act((scope) => undoLetter(scope, written.id, later(2)))).toBe(true)
  expect(await act((scope) => undoLetter(scope, written.id, later(2)))).toBe(false)
  const states = new Map(
    (await act((scope) => readProposals(scope, { unit: UNIT }))).map((each) => [
      each.weakPoint,
      standingOf(each, each.acts, each.works).state,
    ]),
  )
  expect([states.get('injector'), states.get('pump')]).toEqual(['made', 'accepted'])
  expect(await act(readLetters)).toEqual([])
  expect(await act((scope) => writeLetter(scope, LETTER, later(3)))).toMatchObject({ ok: true })
})

test('who wants no letters gets none, by whatever vehicle, until that is taken back; another organisation knows nothing of it', async () => {
  const [act, theirs] = [await withVehicles('out'), await withVehicles('out of others')]
  await act((scope) => optOut(scope, { customer: 'Ann Field', today: TODAY }, by))
  await act((scope) => optOut(scope, { customer: 'ANN FIELD', today: TODAY }, later(1)))
  const [noted, ...more] = await act(readOptOuts)
  expect([noted!.customerKey, more]).toEqual([customerKey('Ann Field'), []])
  expect(await act((scope) => writeLetter(scope, LETTER, by))).toEqual({ ok: false, reason: 'opted-out' })
  expect(await theirs((scope) => undoOptOut(scope, noted!.id, by))).toBe(false)
  expect(await theirs((scope) => writeLetter(scope, LETTER, by))).toMatchObject({ ok: true })
  expect(await act((scope) => undoOptOut(scope, noted!.id, by))).toBe(true)
  expect(await act((scope) => writeLetter(scope, LETTER, by))).toMatchObject({ ok: true })
  expect(await act((scope) => writeLetter(scope, { ...LETTER, unit: 'nobody' }, by))).toEqual({
    ...{ ok: false, reason: 'not-found' },
  })
})

test('the name and contact of an earlier owner are never told', async () => {
  const act = await withVehicles('owners')
  await act(async (scope) => {
    await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
    const origin = { library: EXAMPLE_LIBRARY, libraryVersion: 1, scoredAt: NOW }
    await replaceScores(scope, EXAMPLE_SCORES, { ...origin, vehicles: EXAMPLE.vehicles })
  })
  const owner = async () => {
    const [one] = await act(async (scope) => {
      const ground = await readScoringGround(scope, later(40).now)
      return readCallVehicles(scope, ground!, [UNIT])
    })
    return [one!.customer, one!.contact]
  }
  const named = (facts: object, when: number, changes: object[] = []) =>
    act((scope) => changeVehicle(scope, { unit: UNIT, facts, changes: changes as never, ...later(when) }))
  const change = { ...EXAMPLE.changes[0]!, unit: UNIT, kind: 'owner' as const, odometerKm: null, ref: null }
  await named({ customer: 'Ann', contact: 'ann@example.org' }, 1)
  expect(await owner()).toEqual(['Ann', 'ann@example.org'])
  // The form: another owner, with or without a contact.
  await named({ customer: 'Bo', contact: null }, 2, [{ ...change, on: TODAY + 2 }])
  expect(await owner()).toEqual(['Bo', null])
  await named({ contact: 'bo@example.org' }, 3)
  expect(await owner()).toEqual(['Bo', 'bo@example.org'])
  // A file that says the owner has changed, and nobody has written down who it is.
  const none = { vehicles: [], readings: [], codes: [], checks: [], repairs: [] }
  await act((scope) => addRecords(scope, { ...none, changes: [{ ...change, on: TODAY + 10 }] }, later(20)))
  expect(await owner()).toEqual([null, null])
  await named({ customer: 'Cy' }, 21)
  expect(await owner()).toEqual(['Cy', null])
  await named({ contact: 'cy@example.org' }, 22)
  expect(await owner()).toEqual(['Cy', 'cy@example.org'])
  // A file that names somebody else and leaves the contact blank.
  const renamed = { ...EXAMPLE.vehicles.find(({ unit }) => unit === UNIT)!, customer: 'Di', contact: null }
  const file = { ...none, changes: [], vehicles: [renamed] }
  await act((scope) => addRecords(scope, file, later(23)))
  expect(await owner()).toEqual(['Di', null])
})

/** Proposals in the store: made, answered, undone, closed by work on record; another organisation's are not there. */
import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { standingOf } from '@/lib/decisions/proposals'
import { readProposals } from '@/lib/store/read/proposals'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal, undoProposalAct } from '@/lib/store/write/act-on-proposal'
import { addRecords } from '@/lib/store/write/add-records'
import { makeProposals } from '@/lib/store/write/make-proposals'
import { mergeVehicles } from '@/lib/store/write/merge-vehicles'
import { partVehicles } from '@/lib/store/write/part-vehicles'
import { dayIn } from '@/lib/units/dates'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
/** Nobody whom the table of people knows: ids are not held against it. */
const ANN = '00000000-0000-7000-8000-0000000000aa'
const TODAY = dayIn('UTC', NOW)
const UNIT = EXAMPLE.vehicles[0]!.unit
const later = (days: number) => new Date(NOW.getTime() + days * 86_400_000)
const by = { now: NOW, by: null }
const JOB = {
  weakPoint: 'injector',
  positions: [1, 2],
  chances: [{ position: 1, pFail: 0.2, pLow: 0.1, pHigh: 0.3 }],
  advice: 'book' as const,
  costOfWaiting: 42.5,
  price: 300,
  hours: 1.5,
  saving: { value: 120, low: -10, high: 400 },
  evidence: 'misfire came back',
}

async function withRecords(name: string) {
  const organisation = await anOrganisation(database, name)
  const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await act((scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }))
  const ids = await act((scope) =>
    makeProposals(scope, [JOB], { unit: UNIT, asOf: TODAY, today: TODAY, horizonDays: 90, ...by }),
  )
  const read = () => act((scope) => readProposals(scope, { unit: UNIT }))
  return { act, read, id: ids![0]! }
}

test('what was thought at that hour is kept, and each act with its day', async () => {
  const { act, read, id } = await withRecords('kept')
  const [made] = await read()
  expect(made).toMatchObject({
    id,
    unit: UNIT,
    madeOn: TODAY,
    saving: 120,
    savingLow: -10,
    savingHigh: 400,
    acts: [],
  })
  expect([made!.chances, made!.positions, made!.price]).toEqual([JOB.chances, [1, 2], 300])
  await act((scope) => actOnProposal(scope, id, { act: 'told', whom: 'Mrs Field', how: 'call' }, by))
  await act((scope) =>
    actOnProposal(
      scope,
      id,
      { act: 'declined', reason: 'sells it', askAgainOn: TODAY + 90 },
      { ...by, now: later(1) },
    ),
  )
  const [told] = await read()
  expect(told!.acts).toMatchObject([
    { act: 'told', whom: 'Mrs Field', how: 'call', day: TODAY },
    { act: 'declined', reason: 'sells it', askAgainOn: TODAY + 90, day: TODAY + 1 },
  ])
  expect(standingOf(told!, told!.acts, told!.works)).toMatchObject({
    state: 'declined',
    askAgainOn: TODAY + 90,
  })
})

test('only the last act is undone, and it may be done again', async () => {
  const { act, read, id } = await withRecords('undone')
  const accepted = await act((scope) => actOnProposal(scope, id, { act: 'accepted' }, by))
  const booked = await act((scope) =>
    actOnProposal(scope, id, { act: 'booked', visitOn: TODAY + 5 }, { ...by, now: later(1) }),
  )
  if (!accepted.ok || !booked.ok) throw new Error('it may be accepted and booked')
  expect(await act((scope) => undoProposalAct(scope, accepted.id, by))).toBe(false)
  expect(await act((scope) => undoProposalAct(scope, booked.id, by))).toBe(true)
  expect(await act((scope) => undoProposalAct(scope, booked.id, by))).toBe(false)
  expect((await read())[0]!.acts.map((each) => each.act)).toEqual(['accepted'])
  const again = await act((scope) => actOnProposal(scope, id, { act: 'accepted' }, by))
  expect(again).toEqual({ ok: false, reason: 'not-now' })
})

test('what somebody is acting on is not undone under their hands', async () => {
  const { act, read, id } = await withRecords('at once')
  const accepted = await act((scope) => actOnProposal(scope, id, { act: 'accepted' }, by))
  if (!accepted.ok) throw new Error('it may be accepted')
  let undoing: Promise<boolean> | null = null
  await act(async (scope) => {
    await actOnProposal(scope, id, { act: 'booked', visitOn: TODAY + 5 }, { ...by, now: later(1) })
    undoing = act((other) => undoProposalAct(other, accepted.id, by))
    await Promise.race([undoing, sleep(500)])
  })
  expect(await undoing).toBe(false)
  expect((await read())[0]!.acts.map((each) => each.act)).toEqual(['accepted', 'booked'])
})

test('a repair of the part on record closes it; withdrawn or elsewhere it does not', async () => {
  const { act, read, id } = await withRecords('closed')
  const repair = { ...EXAMPLE.repairs[0]!, unit: UNIT, weakPoint: 'injector', doneOn: TODAY, ref: 'closing' }
  const add = (row: typeof repair) =>
    act((scope) =>
      addRecords(
        scope,
        { vehicles: [], readings: [], codes: [], checks: [], changes: [], repairs: [row] },
        { now: later(1), by: null },
      ),
    )
  await add({ ...repair, positions: [4], found: 'failed' })
  const standing = async () => {
    const [one] = await read()
    return standingOf(one!, one!.acts, one!.works)
  }
  expect((await standing()).state).toBe('made')
  await add({ ...repair, positions: [2], found: 'sound' })
  expect(await standing()).toMatchObject({ state: 'found', found: 'sound', doneOn: TODAY })
  const answer = await act((scope) => actOnProposal(scope, id, { act: 'accepted' }, by))
  expect(answer).toEqual({ ok: false, reason: 'not-now' })
})

test('a vehicle that is not there gets none, and nobody answers what they cannot see', async () => {
  const { act, id } = await withRecords('ours')
  const theirs = await withRecords('theirs')
  const making = { unit: 'nobody', asOf: TODAY, today: TODAY, horizonDays: 90, ...by }
  expect(await act((scope) => makeProposals(scope, [JOB], making))).toBeNull()
  expect(await theirs.act((scope) => actOnProposal(scope, id, { act: 'accepted' }, by))).toEqual({
    ok: false,
    reason: 'not-found',
  })
  expect((await theirs.act((scope) => readProposals(scope, { all: true }))).map((each) => each.id)).toEqual([
    theirs.id,
  ])
})

test('a vehicle that is made one with another takes its proposals along, and back again when they are parted', async () => {
  const { act, id } = await withRecords('merged')
  const other = EXAMPLE.vehicles.find(({ unit }) => unit !== UNIT)!.unit
  const of = (unit: string) =>
    act((scope) => readProposals(scope, { unit })).then((all) => all.map((each) => each.id))
  expect([await of(UNIT), await of(other)]).toEqual([[id], []])
  const merge = { unit: other, other: UNIT, facts: {}, now: later(2), by: ANN }
  expect(await act((scope) => mergeVehicles(scope, merge))).toMatchObject({ ok: true })
  expect([await of(UNIT), await of(other)]).toEqual([[], [id]])
  const repair = {
    ...EXAMPLE.repairs[0]!,
    unit: other,
    weakPoint: 'injector',
    positions: [1],
    doneOn: TODAY + 3,
  }
  const rows = {
    vehicles: [],
    readings: [],
    codes: [],
    checks: [],
    changes: [],
    repairs: [{ ...repair, ref: 'after' }],
  }
  await act((scope) => addRecords(scope, rows, { now: later(4), by: null }))
  const [moved] = await act((scope) => readProposals(scope, { ids: [id] }))
  expect(moved!.works).toHaveLength(1)
  const parting = { unit: other, other: UNIT, mergedAt: later(2), now: later(5), by: ANN }
  expect(await act((scope) => partVehicles(scope, parting))).toMatchObject({ ok: true })
  expect([await of(UNIT), await of(other)]).toEqual([[id], []])
})

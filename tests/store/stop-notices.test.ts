import { expect, test } from 'vitest'
import type { FleetScores } from '@/lib/decisions/score-fleet'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readStopNotices } from '@/lib/store/read/stop-notices'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { answerStop, type StopAnswer } from '@/lib/store/write/answer-stop'
import { putLibrary } from '@/lib/store/write/put-library'
import { raiseStops } from '@/lib/store/write/raise-stops'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from './example-scores'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const BY = '01980000-0000-7000-8000-000000000001'
const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000)
const write = <T>(id: OrganisationId, work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, id, work, 'write')

/** An organisation whose B-10 must not be driven for its third injector. */
async function withStop(name: string): Promise<OrganisationId> {
  const id = await anOrganisation(database, name)
  await write(id, async (scope) => {
    await addRecords(scope, EXAMPLE, { now: NOW, by: null })
    await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
    await score(scope, EXAMPLE_SCORES)
  })
  return id
}

const score = (scope: OrganisationScope, scores: FleetScores) =>
  replaceScores(scope, scores, {
    vehicles: EXAMPLE.vehicles,
    library: EXAMPLE_LIBRARY,
    libraryVersion: 1,
    scoredAt: NOW,
  })

const open = (id: OrganisationId) =>
  withOrganisation(database, id, (scope) => readStopNotices(scope, { open: true }))

const openOne = async (id: OrganisationId) => (await open(id))[0]!.id

const answer = (id: OrganisationId, notice: string, what: StopAnswer, minutes: number) =>
  write(id, (scope) => answerStop(scope, notice, what, { now: later(minutes), by: BY }))

test('an advice to stop is raised once, and stands however often it is scored and whatever the advice becomes', async () => {
  const id = await withStop('raised once')
  await Promise.all([1, 2, 3].map((minutes) => write(id, (scope) => raiseStops(scope, later(minutes)))))
  const [notice, ...more] = await open(id)
  expect(more).toEqual([])
  expect(notice).toMatchObject({
    unit: 'B-10',
    name: 'Injector',
    place: 'cylinder',
    position: 3,
    reason: 'misfire on 3',
  })

  const fine = { ...EXAMPLE_SCORES, vehicles: EXAMPLE_SCORES.vehicles.slice(1) }
  await write(id, (scope) => score(scope, fine))
  expect(await write(id, (scope) => raiseStops(scope, later(9999)))).toBe(0)
  expect(await open(id)).toEqual([notice])
})

test('told, parked and released are noted with who and when, each once; released is the end', async () => {
  const id = await withStop('answered')
  await write(id, (scope) => raiseStops(scope, NOW, ['B-10', 'no-such']))
  const notice = await openOne(id)
  expect(await answer(id, notice, { act: 'told', whom: 'the driver' }, 1)).toBe(true)
  expect(await answer(id, notice, { act: 'told', whom: 'somebody else' }, 2)).toBe(false)
  expect(await answer(id, notice, { act: 'parked' }, 3)).toBe(true)
  expect(await withOrganisation(database, id, (scope) => readStopNotices(scope, { untold: true }))).toEqual(
    [],
  )
  expect(await answer(id, notice, { act: 'released', because: 'injector 3 replaced' }, 4)).toBe(true)
  expect(await answer(id, notice, { act: 'parked' }, 5)).toBe(false)
  expect(await open(id)).toEqual([])
  const [told] = await withOrganisation(database, id, (scope) => readStopNotices(scope, { unit: 'B-10' }))
  expect(told).toMatchObject({
    toldWhom: 'the driver',
    toldAt: later(1),
    parkedAt: later(3),
    releasedAt: later(4),
    releasedBecause: 'injector 3 replaced',
  })
})

test('after a release a reading raises nothing, a new look does; so does an advice that had been another', async () => {
  const id = await withStop('raised again')
  const release = async (minutes: number) => {
    const notice = await openOne(id)
    await answer(id, notice, { act: 'released', because: 'looked at: dry' }, minutes)
  }
  const none = { vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] }
  const enter = (records: Partial<typeof EXAMPLE>, minutes: number) =>
    write(id, (scope) => addRecords(scope, { ...none, ...records }, { now: later(minutes), by: BY }))
  const raised = (minutes: number) => write(id, (scope) => raiseStops(scope, later(minutes), ['B-10']))

  expect(await raised(1)).toBe(1)
  await release(2)
  await enter({ readings: [{ ...EXAMPLE.readings[0]!, odometerKm: 77 }] }, 3)
  expect(await raised(4)).toBe(0)
  await enter({ checks: [{ ...EXAMPLE.checks[0]!, kind: 'report' }] }, 5)
  expect(await raised(6)).toBe(1)
  await release(7)
  expect(await raised(8)).toBe(0)
  await write(
    id,
    (scope) => scope.tx.$executeRaw`
      insert into score_history (organisation_id, vehicle_id, weak_point, position, horizon_days, as_of, scored_at,
        p_fail, p_low, p_high, advice, library_version)
      select organisation_id, id, 'injector', 3, 90, current_date, ${later(9)}, 0.1, 0.1, 0.1, 'fine', 1
      from vehicles where unit = 'B-10'`,
  )
  expect(await raised(10)).toBe(1)
})

test('nobody answers for another organisation', async () => {
  const [own, other] = [await withStop('own'), await anOrganisation(database, 'other')]
  await write(own, (scope) => raiseStops(scope, NOW))
  const notice = await openOne(own)
  expect(await answer(other, notice, { act: 'parked' }, 1)).toBe(false)
  expect(await open(other)).toEqual([])
})

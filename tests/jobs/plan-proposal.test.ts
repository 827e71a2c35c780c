/** A plan that is out of date says so; another is proposed in the night, taken or left, and each of both is undone. */
import { expect, test } from 'vitest'
import { planVisits } from '@/lib/decisions/plan-visits'
import { mondayOf, WEEK } from '@/lib/decisions/plan-weeks'
import { actOnVisit, undoOnPlan } from '@/lib/jobs/act-on-plan'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import type { planApart } from '@/lib/jobs/plan-apart'
import { readPlanNow } from '@/lib/jobs/plan-now'
import { leaveProposedPlan, readProposedPlan, takeProposedPlan } from '@/lib/jobs/plan-proposal'
import { planWhenAsked } from '@/lib/jobs/plan-when-asked'
import { proposePlanWhenDue } from '@/lib/jobs/propose-plan'
import { bookOtherWork } from '@/lib/jobs/say-on-plan'
import { readAskedJobs } from '@/lib/store/read/asked-jobs'
import { readLastPlanAct } from '@/lib/store/read/plan-act'
import { readUrgentVehicles } from '@/lib/store/read/urgent-vehicles'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askPlan } from '@/lib/store/write/ask-plan'
import { putPlanJobs } from '@/lib/store/write/keep-plan'
import { putPlanTerms } from '@/lib/store/write/put-plan-terms'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(30)
const organisation = await withLibrary(database, 'planned anew', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)

const DAY_MS = 24 * 60 * 60_000
const FIRST = mondayOf(TODAY) + WEEK
const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
let clock = NOW.getTime()
const by = () => {
  clock += 1000
  return { now: new Date(clock), by: null }
}
const now = () => new Date(clock)
const plan = () => act((scope) => readPlanNow(scope, now()))
const proposed = () => act((scope) => readProposedPlan(scope, now()))
const terms = { weeks: 6, kept: 0.1, bays: [1, 2].map((n) => ({ name: `Bay ${n}`, hours: 8, except: [] })) }
const here: typeof planApart = async (request, { start }) => {
  const effort = { rounds: 300, nodes: 0, seconds: 0 }
  return { ...planVisits(request, { solver: null, effort, ...(start ? { start } : {}) }), moreHours: [] }
}
const work = () => planWhenAsked(database, organisation, now, undefined, here)
const isAsked = async () => (await act((scope) => readAskedJobs(scope, ['plan-anew']))).length > 0
async function night() {
  clock += DAY_MS
  await proposePlanWhenDue(database, organisation, now())
  const early = await isAsked()
  await freshenScores(database, organisation, now())
  await proposePlanWhenDue(database, organisation, now())
  return { early, asked: await isAsked() }
}
const rowsOf = async () =>
  (await plan()).visits.map(({ row: { works, ...row } }) => row).sort((a, b) => (a.id < b.id ? -1 : 1))
async function undoLast() {
  const last = await act(readLastPlanAct)
  return act((scope) => undoOnPlan(scope, last!.id, by()))
}

test('a plan that knows all is not made again, night after night', async () => {
  await act((scope) => putPlanTerms(scope, terms, by()))
  await act((scope) => askPlan(scope, by()))
  clock += 1000
  await work()
  const made = await plan()
  expect(made.visits.length).toBeGreaterThan(2)
  expect(made.changes).toBeNull()
  await proposePlanWhenDue(database, organisation, now())
  expect(await isAsked()).toBe(false)
})

test('what was booked makes it out of date; the night proposes another, and nothing changes by itself', async () => {
  const { visits } = await plan()
  const first = visits[0]!.row
  await act((scope) => actOnVisit(scope, first.id, { act: 'promised', whom: 'Mrs Field' }, by()))
  const booking = { unit: null, what: 'tyres', weekOn: first.weekOn, bay: 1 - first.bay, hours: 7 }
  expect(await act((scope) => bookOtherWork(scope, booking, by()))).toBe(true)
  expect((await plan()).changes).toMatchObject({ otherWork: true, since: TODAY, stopped: [], terms: false })
  // On the same day nobody is surprised; and before the day's scores are there, nothing is planned from old ones.
  await proposePlanWhenDue(database, organisation, now())
  expect(await isAsked()).toBe(false)
  expect(await night()).toEqual({ early: false, asked: true })
  const before = { id: (await plan()).plan!.id, rows: await rowsOf() }
  await work()
  expect(await isAsked()).toBe(false)
  expect({ id: (await plan()).plan!.id, rows: await rowsOf() }).toEqual(before)

  const found = (await proposed())!
  expect(found.isOvertaken).toBe(false)
  const promised = found.proposed.find(({ unit }) => unit === first.unit)!
  expect([FIRST + WEEK * promised.week, promised.bay]).toEqual([first.weekOn, first.bay])
  expect(found.difference.moved.map(({ unit }) => unit)).not.toContain(first.unit)
  // Where the plan as it stands can still be kept, the one that is proposed begins with it, and is no worse.
  expect(found.isOverfull || found.gain.after >= found.gain.before - 1e-6).toBe(true)
  // Once a night.
  await proposePlanWhenDue(database, organisation, now())
  expect(await isAsked()).toBe(false)
})

test('left, it is not told any more, and the next night proposes nothing that it knew; undone, it is told again', async () => {
  const id = (await proposed())!.proposal.id
  expect(await act((scope) => leaveProposedPlan(scope, 'no such', by()))).toBe(false)
  expect(await act((scope) => leaveProposedPlan(scope, id, by()))).toBe(true)
  expect(await proposed()).toBeNull()
  expect(await act((scope) => takeProposedPlan(scope, id, by()))).toBe(false)
  expect(await undoLast()).toBe(true)
  expect((await proposed())!.proposal.id).toBe(id)
})

test('taken, it is in force with what it proposed; undone, every visit is as before', async () => {
  const [before, old] = [await rowsOf(), (await plan()).plan!.id]
  const { proposal, proposed: visits } = (await proposed())!
  expect(await act((scope) => takeProposedPlan(scope, proposal.id, by()))).toBe(true)
  const taken = await plan()
  expect(taken.plan!.id).toBe(proposal.id)
  expect(taken.changes).toBeNull()
  expect(await proposed()).toBeNull()
  const places = (list: readonly { unit: string; week: number; bay: number }[]) =>
    list.map(({ unit, week, bay }) => `${unit} ${week} ${bay}`).sort()
  expect(places(taken.visits)).toEqual(places(visits))
  expect((await act(readLastPlanAct))!.told.act).toBe('taken')
  expect(await undoLast()).toBe(true)
  expect((await plan()).plan!.id).toBe(old)
  expect(await rowsOf()).toEqual(before)
  expect((await proposed())!.proposal.id).toBe(proposal.id)
  // What was done to the plan before is the last that was done once more.
  expect((await act(readLastPlanAct))!.told.act).toBe('booked')
})

test('who has to come since, and who need not any more, is told by what the plan knew when it was made', async () => {
  const { id, content } = (await plan()).plan!
  const urgent = await act(readUrgentVehicles)
  const of = (advice: 'stop' | 'book') => [...urgent].flatMap(([unit, is]) => (is === advice ? [unit] : []))
  const idle = fleet.records.vehicles.find(({ unit }) => !urgent.has(unit))!.unit
  const [stopped, toBook] = [of('stop').slice(0, 1), of('book').slice(0, 2)]
  expect(stopped.length + toBook.length).toBeGreaterThan(1)
  const others = [...urgent].filter(([unit]) => !stopped.includes(unit) && !toBook.includes(unit))
  const then = { ...Object.fromEntries(others), [idle]: 'book' as const }
  await act((scope) => putPlanJobs(scope, { id, content: { ...content, urgent: then } }))
  const changes = (await plan()).changes!
  expect({ stopped: changes.stopped, released: changes.released }).toEqual({ stopped, released: [idle] })
  expect([...changes.toBook].sort()).toEqual([...toBook].sort())
  await act((scope) => putPlanJobs(scope, { id, content }))
})

test('what takes its hours keeps a proposal from being taken', async () => {
  const { proposal } = (await proposed())!
  for (let week = 0; week < terms.weeks; week++)
    for (const bay of [0, 1]) {
      const all = { unit: null, what: 'body work', weekOn: FIRST + WEEK * week, bay, hours: 8 }
      await act((scope) => bookOtherWork(scope, all, by()))
    }
  expect(await proposed()).toMatchObject({ isOvertaken: true, isOverfull: true })
  expect(await act((scope) => takeProposedPlan(scope, proposal.id, by()))).toBe(false)
})

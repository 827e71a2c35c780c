/** The plan of visits in the store: made when asked, moved, pinned, promised, undone, and made again without breaking a promise. */
import { expect, test } from 'vitest'
import { brokenRules } from '@/lib/decisions/plan-value'
import { planVisits } from '@/lib/decisions/plan-visits'
import { mondayOf, WEEK } from '@/lib/decisions/plan-weeks'
import { standingOf as proposalStanding } from '@/lib/decisions/proposals'
import { actOnVisit, blocking, movesOf, undoOnPlan } from '@/lib/jobs/act-on-plan'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { nextVisit } from '@/lib/jobs/next-visit'
import type { planApart } from '@/lib/jobs/plan-apart'
import { type OpenVisit, readPlanNow } from '@/lib/jobs/plan-now'
import { planWhenAsked } from '@/lib/jobs/plan-when-asked'
import { plannedVisit } from '@/lib/jobs/planned-visit'
import { putOnPlan } from '@/lib/jobs/put-on-plan'
import { bookOtherWork, noteAway } from '@/lib/jobs/say-on-plan'
import { readLastPlanAct } from '@/lib/store/read/plan-act'
import { readPlanProgress } from '@/lib/store/read/plan-job'
import { readProposals } from '@/lib/store/read/proposals'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askPlan, stopPlan } from '@/lib/store/write/ask-plan'
import { putPlanTerms } from '@/lib/store/write/put-plan-terms'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(40)
const organisation = await withLibrary(database, 'planned', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)

const PATIENCE_MS = 300_000
const FIRST = mondayOf(TODAY) + WEEK // 1 March 2026 is a Sunday
const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
/** Each act a second later than the one before. */
let clock = NOW.getTime()
const by = () => {
  clock += 1000
  return { now: new Date(clock), by: null }
}
const now = () => new Date(clock)
const plan = () => act((scope) => readPlanNow(scope, now()))
const terms = { weeks: 6, kept: 0.1, bays: [1, 2].map((n) => ({ name: `Bay ${n}`, hours: 8, except: [] })) }

/** In this process, without the solver: quick, and the same each time. */
const here: typeof planApart = async (request, { start, onBetter }) => {
  const effort = { rounds: 300, nodes: 0, seconds: 0 }
  const made = planVisits(request, { solver: null, effort, ...(start ? { start } : {}) })
  onBetter?.(made)
  return { ...made, moreHours: [] }
}
async function makePlan(planning = here) {
  await act((scope) => askPlan(scope, by()))
  clock += 1000
  await planWhenAsked(database, organisation, now, undefined, planning)
  return plan()
}
const rulesBroken = ({ plan: made, visits }: Awaited<ReturnType<typeof plan>>) =>
  brokenRules(
    made!.request,
    visits.map(({ row, stops, ...visit }) => visit),
  )
const placeOf = ({ row }: OpenVisit) => [row.weekOn, row.bay]
const find = async (unit: string) => (await plan()).visits.find((visit) => visit.unit === unit)!

test('without bays it says what to do first, and a later plan is not told that it failed', async () => {
  await act((scope) => askPlan(scope, by()))
  clock += 1000
  await planWhenAsked(database, organisation, now, undefined, here)
  expect((await act(readPlanProgress)).failure).toMatch(/no bays yet/)
  await act((scope) => putPlanTerms(scope, terms, by()))
})

test(
  'a plan is made of what the vehicles need, keeps its rules, and is bounded',
  async () => {
    const made = await makePlan()
    expect((await act(readPlanProgress)).failure).toBeNull()
    expect(made.plan!.firstDay).toBe(FIRST)
    expect(made.visits.length).toBeGreaterThan(2)
    expect(rulesBroken(made)).toEqual([])
    const gain = made.visits.reduce((sum, visit) => sum + visit.gain, 0)
    expect(gain).toBeCloseTo(made.plan!.gain, 6)
    expect(made.plan!.bound).toBeGreaterThanOrEqual(gain)
    expect(made.changes).toBeNull()
    // A visit is where it gains most of where it could be, or a swap is not worth it: never worse than empty places.
    for (const visit of made.visits)
      for (const moved of movesOf(made.plan!.request, made.visits, visit).flat())
        if (moved?.feasible) expect(moved.difference).toBeLessThan(1e-6)
  },
  PATIENCE_MS,
)

test('a visit is moved at the cost that was told, stays there when the plan is made again, and is moved back', async () => {
  const before = await plan()
  const visit = before.visits.find((each) =>
    movesOf(before.plan!.request, before.visits, each)
      .flat()
      .some((moved) => moved && blocking(moved).length === 0),
  )!
  const moves = movesOf(before.plan!.request, before.visits, visit)
  const week = moves.findIndex((ofWeek) => ofWeek.some((moved) => moved && blocking(moved).length === 0))
  const bay = moves[week]!.findIndex((moved) => moved && blocking(moved).length === 0)
  const to = { weekOn: FIRST + WEEK * week, bay }
  const moved = await act((scope) => actOnVisit(scope, visit.row.id, { act: 'moved', ...to }, by()))
  expect(moved).toEqual({ ok: true })
  const after = await find(visit.unit)
  expect(placeOf(after)).toEqual([to.weekOn, to.bay])
  expect(after.gain - visit.gain).toBeCloseTo(moves[week]![bay]!.difference, 9)
  const last = await act(readLastPlanAct)
  expect(last!.told.cost).toBeCloseTo(-moves[week]![bay]!.difference, 9)

  const again = await makePlan()
  expect(rulesBroken(again)).toEqual([])
  expect(placeOf(await find(visit.unit))).toEqual([to.weekOn, to.bay])
  // What was done to an earlier plan is not undone in this one.
  expect(await act(readLastPlanAct)).toBeNull()
  expect(await act((scope) => undoOnPlan(scope, last!.id, by()))).toBe(false)

  await act((scope) => actOnVisit(scope, visit.row.id, { act: 'unpinned' }, by()))
  const unpinned = await act(readLastPlanAct)
  expect(await act((scope) => undoOnPlan(scope, unpinned!.id, by()))).toBe(true)
  expect((await find(visit.unit)).row.pinned).toBe(true)
  await act((scope) => actOnVisit(scope, visit.row.id, { act: 'unpinned' }, by()))
})

test('a place without hours is refused, and says whose visits take them', async () => {
  const { plan: made, visits } = await plan()
  const blocked = visits
    .flatMap((visit) =>
      movesOf(made!.request, visits, visit).flatMap((ofWeek, week) =>
        ofWeek.map((moved, bay) => ({ visit, moved, at: { weekOn: FIRST + WEEK * week, bay } })),
      ),
    )
    .find(({ moved }) => moved?.obstacles.some(({ reason }) => reason === 'hours-full'))!
  const { at } = blocked
  const answer = await act((scope) => actOnVisit(scope, blocked.visit.row.id, { act: 'moved', ...at }, by()))
  expect(answer.ok).toBe(false)
  expect(placeOf(await find(blocked.visit.unit))).toEqual(placeOf(blocked.visit))
})

test('what was promised is kept; moved by hand it has slipped, at a cost', async () => {
  const first = (await plan()).visits[0]!
  await act((scope) => actOnVisit(scope, first.row.id, { act: 'promised', whom: 'Mrs Field' }, by()))
  const again = await makePlan()
  expect((await find(first.unit)).row).toMatchObject({
    weekOn: first.row.weekOn,
    promisedOn: first.row.weekOn,
  })
  expect(again.plan!.slipped).toEqual([])
  const visit = await find(first.unit)
  const moves = movesOf(again.plan!.request, again.visits, visit)
  const week = moves.findIndex(
    (ofWeek, w) => w !== visit.week && ofWeek.some((m) => m && blocking(m).length === 0),
  )
  const bay = moves[week]!.findIndex((m) => m && blocking(m).length === 0)
  const to = { weekOn: FIRST + WEEK * week, bay }
  expect(await act((scope) => actOnVisit(scope, visit.row.id, { act: 'moved', ...to }, by()))).toEqual({
    ok: true,
  })
  const slipped = (await plan()).plan!.slipped
  expect(slipped).toHaveLength(visit.jobs.length)
  expect(slipped[0]).toMatchObject({ unit: visit.unit, promisedWeek: visit.week, week })
  const shared = visit.gain - (await find(first.unit)).gain
  expect(slipped.reduce((sum, { cost }) => sum + cost, 0)).toBeCloseTo(shared, 6)
  const last = await act(readLastPlanAct)
  await act((scope) => undoOnPlan(scope, last!.id, by()))
  expect((await plan()).plan!.slipped).toEqual([])
})

test('not in this week, away, and other work are planned around', async () => {
  const visits = (await plan()).visits.filter(({ row }) => !row.pinned && row.promisedOn === null)
  const [forbidden, away] = [visits[0]!, visits[1]!]
  await act((scope) => actOnVisit(scope, forbidden.row.id, { act: 'forbidden' }, by()))
  expect(await find(forbidden.unit)).toBeUndefined()
  const days = { unit: away.unit, from: away.row.weekOn, until: away.row.weekOn + 4 }
  expect(await act((scope) => noteAway(scope, days, by()))).toBe(true)
  const work = { unit: null, what: 'tyres', weekOn: FIRST, bay: 0, hours: 6 }
  expect(await act((scope) => bookOtherWork(scope, work, by()))).toBe(true)
  expect(await act((scope) => bookOtherWork(scope, { ...work, unit: 'nobody' }, by()))).toBe(false)
  expect((await plan()).changes).toMatchObject({
    ...{ booked: [forbidden.unit, away.unit].sort(new Intl.Collator('en', { numeric: true }).compare) },
    ...{ otherWork: true, stopped: [], released: [], terms: false, weekOver: false },
  })
  const again = await makePlan()
  expect(rulesBroken(again)).toEqual([])
  const weeksOf = (unit: string) =>
    again.visits.filter((visit) => visit.unit === unit).map(({ row }) => row.weekOn)
  expect(weeksOf(forbidden.unit)).not.toContain(forbidden.row.weekOn)
  expect(weeksOf(away.unit)).not.toContain(away.row.weekOn)
  const inBay = again.visits.filter(({ row }) => row.weekOn === FIRST && row.bay === 0)
  expect(inBay.reduce((sum, { hours }) => sum + hours, 0)).toBeLessThanOrEqual(8 * 0.9 - 6 + 1e-6)
})

test('a visit is accepted onto the plan: its proposals are booked, and not any more when that is undone', async () => {
  let unit = ''
  for (const each of fleet.records.vehicles) {
    const next = await act((scope) =>
      nextVisit(scope, { unit: each.unit, hereNow: false, hoursFree: null }, now()),
    )
    if (next && next.jobs.length > 0) unit = each.unit
    if (unit) break
  }
  const usual = { unit, hereNow: false, hoursFree: null }
  await act((scope) =>
    putPlanTerms(scope, { ...terms, bays: terms.bays.map((bay) => ({ ...bay, hours: 40 })) }, by()),
  )
  const put = await act((scope) => putOnPlan(scope, usual, by()))
  if (!put.ok) throw new Error(put.reason)
  const visit = await find(unit)
  expect(placeOf(visit)).toEqual([put.weekOn, put.bay])
  expect(visit.row.pinned).toBe(true)
  const states = async () =>
    (await act((scope) => readProposals(scope, { unit }))).map((proposal) => {
      const { state, visitOn } = proposalStanding(proposal, proposal.acts, proposal.works)
      return [state, visitOn]
    })
  expect(new Set(await states())).toEqual(new Set([['booked', put.weekOn]]))
  const last = await act(readLastPlanAct)
  expect(last!.told).toMatchObject({ act: 'put-on', unit })
  await act((scope) => undoOnPlan(scope, last!.id, by()))
  expect((await states()).every(([state]) => state === 'made')).toBe(true)
})

test('a visit that was done is to be written up, until what was found is on record', async () => {
  const visit = (await plan()).visits.at(-1)!
  await act((scope) => actOnVisit(scope, visit.row.id, { act: 'done', doneOn: TODAY }, by()))
  const unwritten = async () => (await plan()).unwritten.map(({ unit }) => unit)
  expect(await unwritten()).toContain(visit.unit)
  expect((await plan()).visits.map(({ unit }) => unit)).not.toContain(visit.unit)
  const repairs = visit.row.jobs.map(({ weakPoint, positions }, i) => ({
    ...fleet.records.repairs[0]!,
    ...{
      unit: visit.unit,
      weakPoint,
      positions,
      doneOn: TODAY,
      action: 'renew' as const,
      ref: `written ${i}`,
    },
    ...{ found: 'developing' as const, revision: null, odometerKm: null },
  }))
  const rows = { ...partOf(fleet.records, () => false), repairs }
  await enterRecords(database, organisation, rows, by())
  expect(await unwritten()).not.toContain(visit.unit)
})

test('the card of a planned visit keeps its jobs and hours when the advice of the day has moved on', async () => {
  const { visits, today } = await plan()
  const visit = visits.find(({ jobs }) => jobs.length > 1)!
  const { unit } = visit
  const family = fleet.library.families.find(({ key }) => key === visit.row.family)!
  const hoursOf = new Map(family.weakPoints.map(({ key, cost }) => [key, cost.hours]))
  const read = () => act((scope) => plannedVisit(scope, { unit, id: visit.row.id }, today))
  const card = (await read())!
  expect(card.hours).toBeCloseTo(visit.hours, 9)
  expect(card).toMatchObject({ weekOn: visit.row.weekOn, bay: terms.bays[visit.bay]!.name, written: [] })
  const told = card.jobs.flatMap(({ weakPoint, positions }) =>
    positions.map((at) => `${unit} ${weakPoint} ${at}`),
  )
  expect(told.sort()).toEqual([...visit.jobs].sort())
  for (const { weakPoint, positions, hours } of card.jobs)
    expect(hours).toBeCloseTo(hoursOf.get(weakPoint)! * positions.length, 9)

  // With a new engine nothing is due there any more.
  const { ref, enteredOn, notes, line } = fleet.records.repairs[0]!
  const renewed = { ref, enteredOn, notes, line, unit, on: TODAY, kind: 'engine-new' as const }
  const changes = [{ ...renewed, odometerKm: null, engineKm: null, offsetKm: null }]
  await enterRecords(database, organisation, { ...partOf(fleet.records, () => false), changes }, by())
  await freshenScores(database, organisation, now())
  expect(await act((scope) => nextVisit(scope, { unit, hereNow: false, hoursFree: null }, now()))).toBeNull()
  expect(await read()).toEqual(card)

  // What was written up is done: it is on no card again, and the hours are those of the others.
  const [first, ...others] = card.jobs
  const repair = {
    ...fleet.records.repairs[0]!,
    ...first!,
    unit,
    doneOn: TODAY,
    action: 'renew' as const,
    ref: 'card',
  }
  const repairs = [{ ...repair, found: null, revision: null, odometerKm: null }]
  await enterRecords(database, organisation, { ...partOf(fleet.records, () => false), repairs }, by())
  const left = (await read())!
  expect(left.jobs).toEqual(others)
  expect(left.written.map(({ weakPoint }) => weakPoint)).toContain(first!.weakPoint)
  expect(left.hours).toBeLessThanOrEqual(card.hours)
  expect(await act((scope) => plannedVisit(scope, { unit: 'nobody', id: visit.row.id }, today))).toBeNull()
})

test('stopped, the best so far is put in force; stopped before there is any, nothing is', async () => {
  const before = (await plan()).plan!.id
  await act((scope) => askPlan(scope, by()))
  const asked = (await act(readPlanProgress)).job!
  clock += 1000
  await planWhenAsked(database, organisation, now, undefined, async (request, more) => {
    const made = await here(request, more)
    await act((scope) => stopPlan(scope, { id: asked.id, now: now() }))
    return made
  })
  expect((await plan()).plan!.id).toBe(asked.id)
  expect(asked.id).not.toBe(before)
  await act((scope) => askPlan(scope, by()))
  const next = (await act(readPlanProgress)).job!
  await act((scope) => stopPlan(scope, { id: next.id, now: now() }))
  await planWhenAsked(database, organisation, now, undefined, here)
  expect((await plan()).plan!.id).toBe(asked.id)
})

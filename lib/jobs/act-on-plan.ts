import type { PlanRequest } from '@/lib/decisions/plan-request'
import { mondayOf, WEEK } from '@/lib/decisions/plan-weeks'
import { type Moved, moveVisit, type Obstacle } from '@/lib/decisions/plan-why'
import type { StoredVisit } from '@/lib/store/read/plan-visits'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { closePlanDays } from '@/lib/store/write/close-plan-days'
import { holdPlan } from '@/lib/store/write/hold-plan'
import { type BeforeAct, notePlanAct, type ToldAct, undoPlanAct } from '@/lib/store/write/plan-act'
import { dropPlanVisits, putPlanVisit } from '@/lib/store/write/put-plan-visit'
import type { Day } from '@/lib/units/dates'
import { bookProposals, finishProposals, unbookProposals } from './inner/book-proposals'
import { rowOf } from './inner/keep-planned-visits'
import { isStanding, type OpenVisit, type PlanNow, readPlanNow } from './plan-now'

export type By = { now: Date; by: string | null }
export type ActedOnPlan =
  | { ok: true }
  | { ok: false; reason: 'not-found' }
  | { ok: false; obstacles: Obstacle[] }

const NOTHING_BEFORE: BeforeAct = { visits: [], work: [], closed: [], proposalActs: [] }
const NOT_FOUND = { ok: false, reason: 'not-found' } as const

/**
 * What keeps a visit from a place although a person wants it there. That nothing is due then is for the person to weigh,
 * who sees what it costs; and who moves a pinned visit pins it elsewhere.
 */
export const blocking = ({ obstacles }: Pick<Moved, 'obstacles'>): Obstacle[] =>
  obstacles.filter(({ reason }) => reason !== 'nothing-due' && reason !== 'pinned' && reason !== 'promised')

/** What moving a visit to every other place would do, by week and bay; null where it is. */
export function movesOf(
  request: PlanRequest,
  visits: readonly OpenVisit[],
  visit: OpenVisit,
): (Moved | null)[][] {
  return Array.from({ length: request.weeks }, (_, week) =>
    request.hours.map((_ofBay, bay) =>
      week === visit.week && bay === visit.bay ? null : moveVisit(request, visits, visit, { week, bay }),
    ),
  )
}

/** What a person says of a visit. */
export type VisitAct =
  | { act: 'moved'; weekOn: Day; bay: number }
  | { act: 'pinned' | 'unpinned' | 'unpromised' | 'forbidden' }
  | { act: 'promised'; whom: string }
  | { act: 'done'; doneOn: Day }

/**
 * Does to a visit what a person says: it is noted with how it was before, so that it can be undone. A visit that stands
 * because of it has its proposals booked for its week.
 *
 * @param id of the visit
 */
export async function actOnVisit(
  scope: OrganisationScope,
  id: string,
  act: VisitAct,
  by: By,
): Promise<ActedOnPlan> {
  await holdPlan(scope)
  const plan = await readPlanNow(scope, by.now)
  const row = plan.rows.find((each) => each.id === id && each.doneOn === null)
  if (!row) return NOT_FOUND
  const told: ToldAct = { act: act.act, unit: row.unit, from: placeOf(row) }
  const before: BeforeAct = { ...NOTHING_BEFORE, visits: [{ id, row: rowOf(row) }] }
  switch (act.act) {
    case 'moved':
      return move(scope, { plan, row, told, before }, act, by)
    case 'forbidden':
      return forbid(scope, { row, told, before }, by)
    case 'done':
      return finish(scope, { row, told, before }, act.doneOn, by)
    default: {
      const changed = { ...rowOf(row), ...said(row, act) }
      await putPlanVisit(scope, changed)
      const whom = act.act === 'promised' ? { whom: act.whom } : {}
      const proposalActs = isStanding(changed)
        ? await bookProposals(scope, { ...row, ...changed }, plan.today, by)
        : await unbookProposals(scope, row, by)
      await notePlanAct(scope, { ...told, ...whom }, { ...before, proposalActs }, by)
      return { ok: true }
    }
  }
}

const placeOf = ({ weekOn, bay }: Pick<StoredVisit, 'weekOn' | 'bay'>) => ({ weekOn, bay })

type Simple = Exclude<VisitAct, { act: 'moved' | 'forbidden' | 'done' }>

function said(row: StoredVisit, act: Simple): Partial<StoredVisit> {
  if (act.act === 'pinned') return { pinned: true }
  if (act.act === 'unpinned') return { pinned: false }
  if (act.act === 'unpromised') return { promisedOn: null, promisedWhom: null }
  return { promisedOn: row.weekOn, promisedWhom: 'whom' in act ? act.whom : null }
}

type Acting = { row: StoredVisit; told: ToldAct; before: BeforeAct }

async function move(
  scope: OrganisationScope,
  { plan, row, told, before }: Acting & { plan: PlanNow },
  { weekOn, bay }: { weekOn: Day; bay: number },
  by: By,
): Promise<ActedOnPlan> {
  const visit = plan.visits.find((each) => each.row.id === row.id)
  const week = plan.plan ? (weekOn - plan.plan.firstDay) / WEEK : -1
  const bays = plan.plan?.request.hours.length ?? 0
  if (
    !plan.plan ||
    !visit ||
    !plan.plan.weeksOn.includes(weekOn) ||
    bay >= bays ||
    weekOn < mondayOf(plan.today)
  )
    return NOT_FOUND
  const moved = moveVisit(plan.plan.request, plan.visits, visit, { week, bay })
  const obstacles = blocking(moved)
  if (obstacles.length > 0) return { ok: false, obstacles }
  const changed = { ...rowOf(row), weekOn, bay, gain: moved.gain, pinned: true }
  await putPlanVisit(scope, changed)
  const proposalActs = await bookProposals(scope, { ...row, ...changed }, plan.today, by)
  const cost = -moved.difference
  await notePlanAct(scope, { ...told, to: { weekOn, bay }, cost }, { ...before, proposalActs }, by)
  return { ok: true }
}

/** Not in this week: it leaves the plan until the plan is made again. */
async function forbid(scope: OrganisationScope, { row, told, before }: Acting, by: By): Promise<ActedOnPlan> {
  const { unit, weekOn } = row
  const closed = await closePlanDays(
    scope,
    { unit, from: weekOn, until: weekOn + WEEK - 1, why: 'forbidden' },
    by,
  )
  await dropPlanVisits(scope, [row.id])
  await unbookProposals(scope, row, by)
  const added = closed === null ? [] : [{ id: closed, stood: false }]
  await notePlanAct(scope, told, { ...before, closed: added }, by)
  return { ok: true }
}

async function finish(
  scope: OrganisationScope,
  { row, told, before }: Acting,
  doneOn: Day,
  by: By,
): Promise<ActedOnPlan> {
  await putPlanVisit(scope, { ...rowOf(row), doneOn })
  const proposalActs = await finishProposals(scope, row, doneOn, by)
  await notePlanAct(scope, told, { ...before, proposalActs }, by)
  return { ok: true }
}

/** Takes back the last thing that was done with the plan. @returns whether it was the last that stands */
export async function undoOnPlan(scope: OrganisationScope, id: string, by: By): Promise<boolean> {
  await holdPlan(scope)
  const undone = await undoPlanAct(scope, id, by)
  if (!undone) return false
  const plan = await readPlanNow(scope, by.now)
  await unbookProposals(scope, undone.proposalActs, by)
  for (const { id: visit } of undone.visits) {
    const row = plan.rows.find((each) => each.id === visit)
    if (row && isStanding(row) && row.doneOn === null) await bookProposals(scope, row, plan.today, by)
  }
  return true
}

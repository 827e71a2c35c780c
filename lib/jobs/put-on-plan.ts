import { planJobId, planJobs } from '@/lib/decisions/plan-jobs'
import { freeHours, type PlanJob, type PlanRequest } from '@/lib/decisions/plan-request'
import { makeVisit, type PlanVisit } from '@/lib/decisions/plan-value'
import { firstDayOf, mondayOf, WEEK } from '@/lib/decisions/plan-weeks'
import { moveVisit } from '@/lib/decisions/plan-why'
import { readPrices } from '@/lib/store/read/prices'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { holdPlan } from '@/lib/store/write/hold-plan'
import { keepPlan, newPlanId, putPlanJobs } from '@/lib/store/write/keep-plan'
import { notePlanAct } from '@/lib/store/write/plan-act'
import { addPlanVisit, putPlanVisit } from '@/lib/store/write/put-plan-visit'
import type { Day } from '@/lib/units/dates'
import { type By, blocking } from './act-on-plan'
import { bookProposals } from './inner/book-proposals'
import { rowOf, visitedJobs } from './inner/keep-planned-visits'
import { scorerOn } from './inner/scorer-on'
import { nextVisit, type Visiting } from './next-visit'
import { type PlanNow, readPlanNow } from './plan-now'
import { proposeVisit } from './propose-visit'

export type PutOnPlan =
  | { ok: true; weekOn: Day; bay: number }
  | { ok: false; reason: 'no-bays' | 'nothing-due' | 'no-hours' }

/**
 * Accepts the jobs of a vehicle's next visit onto the plan: they are proposed, and stand in the week that the plan
 * proposes for the vehicle, or else in the earliest week with hours for them. Other visits stay where they are.
 */
export async function putOnPlan(
  scope: OrganisationScope,
  asked: { unit: string } & Visiting,
  by: By,
): Promise<PutOnPlan> {
  const { unit } = asked
  await holdPlan(scope)
  const visit = await nextVisit(scope, asked, by.now)
  if (!visit || visit.jobs.length === 0) return { ok: false, reason: 'nothing-due' }
  const ids = visit.jobs.flatMap((job) => job.positions.map((at) => planJobId(unit, job.weakPoint, at)))
  const plan = await withJobsOf(scope, unit, new Set(ids), by)
  if (!plan?.plan) return { ok: false, reason: 'no-bays' }
  const jobs = plan.plan.request.jobs.filter(({ id }) => ids.includes(id))
  const place = placeFor(plan, plan.plan.request, unit, jobs)
  if (!place) return { ok: false, reason: 'no-hours' }
  await proposeVisit(scope, asked, by)
  const weekOn = plan.plan.firstDay + WEEK * place.week
  await stand(scope, { plan, place, weekOn, by })
  return { ok: true, weekOn, bay: place.bay }
}

/** The plan in force with the vehicle's jobs as they are today; one without other visits where there is none yet. */
async function withJobsOf(
  scope: OrganisationScope,
  unit: string,
  agreed: ReadonlySet<string>,
  by: By,
): Promise<PlanNow | null> {
  const plan = await readPlanNow(scope, by.now)
  const { terms, today } = plan
  const ground = await readScoringGround(scope, by.now)
  const prices = await readPrices(scope)
  if (!terms || terms.bays.length === 0 || !ground || !prices) return null
  const isFit = plan.plan !== null && plan.plan.weeksOn.at(-1)! >= mondayOf(today)
  const firstDay = isFit ? plan.plan!.firstDay : firstDayOf(today)
  const weeks = isFit ? plan.plan!.weeks : terms.weeks
  const advice = await (await scorerOn(scope, ground)).groundOf(scope, unit)
  if (!advice) return null
  const fresh = planJobs(unit, advice, { weeks, firstInDays: firstDay - today, agreed })
  if (plan.plan && isFit) {
    const content = plan.plan.content
    const jobs = [...content.jobs.filter((job) => job.unit !== unit), ...fresh]
    await putPlanJobs(scope, { id: plan.plan.id, content: { ...content, jobs } })
  } else {
    const content = { jobs: fresh, hourPrices: [], moreHours: [], visits: [] }
    const kept = { id: newPlanId(by.now), firstDay, weeks, asOf: today, gain: 0, bound: null, content }
    await keepPlan(scope, { ...kept, madeAt: by.now, by: by.by }, by.now)
  }
  return readPlanNow(scope, by.now)
}

/** Where the plan has the vehicle already, as far as the jobs fit there; else the earliest place with hours. */
function placeFor(
  { visits, today, plan }: PlanNow,
  request: PlanRequest,
  unit: string,
  jobs: readonly PlanJob[],
): PlanVisit | null {
  const own = visits.find((visit) => visit.unit === unit)
  const others = visits.filter((visit) => visit.unit !== unit)
  const free = { ...request, pinned: request.pinned.filter((pin) => pin.unit !== unit) }
  const fits = (at: { week: number; bay: number }) => {
    const visit = makeVisit(free, { unit, ...at }, jobs)
    return blocking(moveVisit(free, [...others, visit], visit, at)).length === 0 ? visit : null
  }
  const earliest = Math.max(0, (mondayOf(today) - (plan?.firstDay ?? 0)) / WEEK)
  const places = freeHours(free).flatMap((ofBay, bay) => ofBay.map((_, week) => ({ week, bay })))
  const later = places.filter(({ week }) => week >= earliest).sort((a, b) => a.week - b.week || a.bay - b.bay)
  for (const at of own ? [own, ...later] : later) {
    const visit = fits({ week: at.week, bay: at.bay })
    if (visit) return visit
  }
  return null
}

async function stand(
  scope: OrganisationScope,
  { plan, place, weekOn, by }: { plan: PlanNow; place: PlanVisit; weekOn: Day; by: By },
): Promise<void> {
  const { unit, bay, hours, gain } = place
  const row = plan.rows.find((each) => each.unit === unit && each.doneOn === null)
  const jobs = visitedJobs(plan.plan!.request, place.jobs)
  const made = { weekOn, bay, hours, gain, jobs, pinned: true, madeAt: by.now }
  const none = { promisedOn: null, promisedWhom: null, doneOn: null, madeBy: by.by }
  if (row) await putPlanVisit(scope, { ...rowOf(row), ...made })
  const id = row ? row.id : await addPlanVisit(scope, unit, { ...none, ...made })
  if (id === null) throw new Error('The vehicle was there a moment ago')
  const proposalActs = await bookProposals(scope, { unit, jobs, weekOn }, plan.today, by)
  const before = { visits: [{ id, row: row ? rowOf(row) : null }], work: [], closed: [], proposalActs }
  await notePlanAct(scope, { act: 'put-on', unit, to: { weekOn, bay } }, before, by)
}

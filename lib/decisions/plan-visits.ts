/**
 * Which vehicles come when: visits on weeks and bays that gain most, within hours, with what no plan can pass beside it.
 *
 * A plan is there within milliseconds (greedy, then exchanges) and gets better; a price of hours bounds it from above; a
 * mixed-integer programme (HiGHS) closes what is left. Vehicles that must not be driven come first: no plan with fewer
 * of their jobs is preferred for money.
 */
import type { Highs } from 'highs'
import { boundByJob, boundOf } from './inner/plan-bound'
import { compile, freeBySlot, visitOf, weekOf } from './inner/plan-ground'
import { type PlanEffort, PlanWork, type WorkTerms } from './inner/plan-work'
import type { PlanRequest } from './plan-request'
import type { PlanVisit } from './plan-value'

export type { PlanEffort } from './inner/plan-work'

export interface Plan {
  /** In the order of weeks, bays, and gain. */
  visits: PlanVisit[]
  /** Money, by the definition in `plan-value`. */
  gain: number
  /** No plan that keeps the same pins and has as many stop jobs as can be gains more; infinite until it is known. */
  bound: number
  /** By week: what one more hour there would gain at most, at the margin. */
  hourPrices: number[]
}

export interface PlanTerms {
  /** Null: own search and own bound alone. */
  solver: Highs | null
  effort?: PlanEffort
  /** Visits to start from, as far as they still hold: today's plan, or the last one. */
  start?: readonly PlanVisit[]
  /** Seconds, by which the solver's time is measured; its own clock without it. */
  clock?: () => number
  /** Asked often; false ends it with the best so far. */
  goOn?: () => boolean
}

/** Enough for a few hundred jobs in seconds; the same result each time, unless a limit of time cuts it off. */
export const USUAL_EFFORT: PlanEffort = { rounds: 100_000, nodes: 2_000, seconds: 4 }

/**
 * Plans in steps: each yields a plan that holds, no step's plan is worse or its bound higher than the last.
 *
 * @param request as `checkPlanRequest` gave it back
 */
export function* planInSteps(
  request: PlanRequest,
  { solver, effort = USUAL_EFFORT, start = [], clock, goOn = () => true }: PlanTerms,
): Generator<Plan, Plan> {
  const terms: WorkTerms = { highs: solver, effort, goOn, clock: clock ?? null }
  const work = new PlanWork(compile(request, freeBySlot(request)), terms)
  const told = (): Plan => planOf(work)
  work.begin(start)
  yield told()
  if (request.visitsEach > 1) return yield* planSeveral(request, work, terms)
  work.price()
  yield told()
  const steps: (() => Iterable<void> | undefined)[] = [
    () => work.exchange(),
    () => work.shuffle(),
    () => void work.price(),
    () => void work.solveByWeek(),
    () => void work.solveByBay(),
    () => work.shuffle(),
  ]
  for (const step of steps) {
    if (work.nearEnough() || !goOn()) break
    for (const _ of step() ?? []) yield told()
    yield told()
  }
  return told()
}

/** Runs it to its end. */
export function planVisits(request: PlanRequest, terms: PlanTerms): Plan {
  const steps = planInSteps(request, terms)
  let step = steps.next()
  while (!step.done) step = steps.next()
  return step.value
}

/** The solver, loaded. Solving blocks: whoever serves others has it done in a process apart. */
export async function loadSolver(): Promise<Highs> {
  const { default: load } = await import('highs')
  return load()
}

/**
 * Several visits of one vehicle: the first ones are planned as if there were no others, then what jobs are left, in the
 * weeks in which the vehicle does not come yet. The bound is the lower of two: each visit
 * with all jobs to choose from, and each job in its best week with one visit to pay.
 */
function* planSeveral(request: PlanRequest, first: PlanWork, terms: WorkTerms): Generator<Plan, Plan> {
  let planned: PlanVisit[] = []
  const free = freeBySlot(request)
  const bays = request.hours.length
  const relaxed = compile(request, freeBySlot(request), { relaxed: true })
  const nothing = {
    there: relaxed.candidates.map(() => false),
    allStops: relaxed.candidates.map(() => false),
  }
  let bound = Number.POSITIVE_INFINITY
  let hourPrices: number[] = []
  let plan = planOf(first)
  for (let round = 0; round < request.visitsEach; round++) {
    const work = round === 0 ? first : new PlanWork(compile(request, free.slice(), { planned, round }), terms)
    if (round > 0) work.begin([])
    for (const _ of work.shuffle());
    const added = visitsOf(work)
    planned = [...planned, ...added]
    for (const { week, bay, hours } of added)
      free[week * bays + bay] = Math.max(free[week * bays + bay]! - hours, 0)
    const gain = planned.reduce((sum, visit) => sum + visit.gain, 0)
    for (const found of [boundOf(relaxed, nothing, gain), boundByJob(relaxed, gain)]) {
      if (found.bound >= bound) continue
      bound = found.bound
      hourPrices = [...found.hourPrices]
    }
    plan = { visits: inOrder(planned), gain, bound: Math.max(bound, gain), hourPrices }
    yield plan
    if (!terms.goOn()) break
  }
  return plan
}

function planOf(work: PlanWork): Plan {
  const visits = visitsOf(work)
  const gain = visits.reduce((sum, visit) => sum + visit.gain, 0)
  return {
    visits: inOrder(visits),
    gain,
    bound: Math.max(work.bound, gain),
    hourPrices: [...work.hourPrices],
  }
}

function visitsOf(work: PlanWork): PlanVisit[] {
  const { ground } = work
  return work.chosen().map(({ candidate, slot, choice }) => {
    const of = ground.candidates[candidate]!
    return visitOf(ground, of, slot, of.choices[weekOf(ground.bays, slot)]![choice]!)
  })
}

const inOrder = (visits: readonly PlanVisit[]): PlanVisit[] =>
  [...visits].sort((a, b) => a.week - b.week || a.bay - b.bay || b.gain - a.gain)

import { beforeAll, describe, expect, it } from 'vitest'
import { checkPlanRequest, type PlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules } from '@/lib/decisions/plan-value'
import { loadSolver, type Plan, planVisits } from '@/lib/decisions/plan-visits'
import reference from './bay-plan.json'
import { outsideCheck } from './outside-checks'

const source = 'bay-plan.json: CBC 2.10.8, GLPK 5.0, HiGHS by scipy 1.17.1'
const gains = outsideCheck({
  what: 'plan of visits: what the best plan gains',
  formula: 'Σ gain in its week − visits × price, within hours, with as many stop jobs as can be',
  source,
  tolerance: { absolute: 1e-4 },
})
const stops = outsideCheck({
  what: 'plan of visits: the most stop jobs that fit',
  formula: 'max Σ stop jobs planned, within hours',
  source,
  tolerance: 'exact',
})
const bounds = outsideCheck({
  what: 'plan of visits: the bound on what any plan gains',
  formula: 'least price of hours, cut by the solver',
  source,
  tolerance: { relative: 1e-5 },
})
const rules = outsideCheck({
  what: 'plan of visits: plans for the published instances keep every rule',
  formula: 'no rule broken: hours, one visit a vehicle, gain by definition',
  source,
  tolerance: 'exact',
})

/** Small instances need few shuffles. */
const EFFORT = { rounds: 2_000, nodes: 2_000, seconds: 20 }

type Case = (typeof reference.cases)[number]

/** The published instances save shared hours in time alone, so an hour costs nothing. */
function requestOf({ slotHours, weeks, visitCost, sharedHours, jobs }: Case, stop = true): PlanRequest {
  const shared: Record<string, number> = sharedHours
  const checked = checkPlanRequest({
    weeks,
    hours: slotHours,
    visit: visitCost,
    jobs: jobs.map((job, j) => ({
      id: `J${j}`,
      unit: `V${job.vehicle}`,
      weakPoint: `point-${j}`,
      positions: [1],
      hours: job.hours,
      access: job.access,
      sharedHours: job.access === null ? 0 : shared[job.access]!,
      stop: stop && job.stop,
      gainByWeek: job.gainByWeek,
    })),
  })
  if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
  return checked.value
}

function boundHolds(plan: Plan, optimum: number, id: string): void {
  expect(plan.bound).toBeGreaterThanOrEqual(optimum - 1e-6)
  bounds.close(plan.bound, optimum, id)
}

const jobsOf = (plan: Plan) => new Set(plan.visits.flatMap(({ jobs }) => jobs))

describe('a plan of visits', () => {
  let solver: Awaited<ReturnType<typeof loadSolver>>
  beforeAll(async () => {
    solver = await loadSolver()
  })

  it.each(reference.cases)('$id', (each) => {
    const request = requestOf(each)
    const plan = planVisits(request, { solver, effort: EFFORT })
    rules.equal(brokenRules(request, plan.visits), [], each.id)
    gains.close(plan.gain, each.optimalNetGain, each.id)
    boundHolds(plan, each.optimalNetGain, each.id)
    const done = jobsOf(plan)
    stops.equal(request.jobs.filter(({ id, stop }) => stop && done.has(id)).length, each.maxStopJobs, each.id)
  })

  it.each(reference.cases)('$id without stop jobs', (each) => {
    const plan = planVisits(requestOf(each, false), { solver, effort: EFFORT })
    gains.close(plan.gain, each.optimalNetGainIgnoringStop, each.id)
    boundHolds(plan, each.optimalNetGainIgnoringStop, each.id)
  })
})

gains.done()
bounds.done()
stops.done()
rules.done()

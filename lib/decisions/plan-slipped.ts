/** A plan that was promised against today's: which jobs moved or fell out, and what that costs at today's gains. */
import type { PlanRequest } from './plan-request'
import type { PlanVisit } from './plan-value'

export interface Slipped {
  job: string
  unit: string
  /** In weeks of today's plan. */
  promisedWeek: number
  /** Null: it is in no visit any more. */
  week: number | null
  /** What it gains in the promised week less in that of today, at today's gains; negative: it gains by it. */
  cost: number
}

/**
 * Jobs that are not in the week in which they were promised, the dearest first. Jobs that are gone (done, or worth
 * nothing any more) are not told, nor are those that were promised for weeks that are over: these are to be planned or
 * written up.
 *
 * @param promised visits with weeks counted from the beginning of today's plan
 */
export function slippedFrom(
  request: PlanRequest,
  promised: readonly Pick<PlanVisit, 'week' | 'jobs'>[],
  visits: readonly PlanVisit[],
): Slipped[] {
  const today = new Map(visits.flatMap(({ week, jobs }) => jobs.map((id) => [id, week] as const)))
  const known = new Map(request.jobs.map((job) => [job.id, job]))
  const slipped = promised
    .filter(({ week }) => week >= 0 && week < request.weeks)
    .flatMap(({ week: promisedWeek, jobs }) =>
      jobs.flatMap((id) => {
        const job = known.get(id)
        const week = today.get(id) ?? null
        if (!job || week === promisedWeek) return []
        const cost = job.gainByWeek[promisedWeek]! - (week === null ? 0 : job.gainByWeek[week]!)
        return [{ job: id, unit: job.unit, promisedWeek, week, cost }]
      }),
    )
  return slipped.sort((a, b) => b.cost - a.cost)
}

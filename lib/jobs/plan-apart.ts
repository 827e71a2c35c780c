import type { MoreHours } from '@/lib/decisions/plan-left'
import type { PlanRequest } from '@/lib/decisions/plan-request'
import type { PlanVisit } from '@/lib/decisions/plan-value'
import type { Plan, PlanEffort } from '@/lib/decisions/plan-visits'
import { ProcessApart } from '@/lib/replay/process-apart'
import type { Answered, PlanTask } from './inner/planning-process'

const BROKE_OFF = 'The process that plans ended without a plan'
const MOST_MEGABYTES = 1024

export interface ApartTerms {
  /** When it is ended, whatever it is at: the solver does not always keep to its own limit. */
  seconds: number
  effort?: PlanEffort
  /** Visits to start from, as far as they still hold. */
  start?: PlanVisit[]
  /** Of so many more hours in a week the worth is asked. */
  moreHours?: number
  /** False: own search and own bound alone. */
  solver?: boolean
  /** Told of each plan that is better, or better bounded, than the last. */
  onBetter?: (plan: Plan) => void
  /** Ends it with the best so far. */
  signal?: AbortSignal
}

/** A plan with what more hours would be worth; none where it was not asked, or it was ended before. */
export type PlannedApart = Plan & { moreHours: MoreHours[] }

/**
 * Plans visits in a process of its own, so that whoever serves others is not held up, and ends it in time.
 *
 * @param request as `checkPlanRequest` gave it back
 * @returns the last plan, or the best so far where time was up, it was aborted, or the process broke off
 * @throws where there is none yet
 */
export async function planApart(request: PlanRequest, terms: ApartTerms): Promise<PlannedApart> {
  const { seconds, effort, start, solver = true, moreHours = null, onBetter, signal } = terms
  const task: PlanTask = { request, effort, start, solver, moreHours }
  const child = new ProcessApart<PlanTask, Answered>(
    new URL('./inner/planning-process.ts', import.meta.url),
    BROKE_OFF,
    { most: MOST_MEGABYTES },
  )
  const end = () => child.end()
  const timer = setTimeout(end, seconds * 1000)
  signal?.addEventListener('abort', end)
  if (signal?.aborted) end()
  let best: Plan | null = null
  try {
    return await child.ask(task, (answered) => {
      if ('planned' in answered) return { ...answered.planned, moreHours: answered.moreHours }
      best = answered.soFar
      onBetter?.(answered.soFar)
      return null
    })
  } catch (failed) {
    const soFar = best as Plan | null
    if (soFar === null) throw failed
    return { ...soFar, moreHours: [] }
  } finally {
    clearTimeout(timer)
    signal?.removeEventListener('abort', end)
    end()
  }
}

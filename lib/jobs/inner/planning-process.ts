/** A process that plans visits for another one, which does not wait for it. */
import { type MoreHours, worthOfMoreHours } from '@/lib/decisions/plan-left'
import type { PlanRequest } from '@/lib/decisions/plan-request'
import type { PlanVisit } from '@/lib/decisions/plan-value'
import { loadSolver, type Plan, type PlanEffort, planInSteps } from '@/lib/decisions/plan-visits'

/** What is to be planned, from which visits on; and of how many more hours the worth is asked, if of any. */
export type PlanTask = {
  request: PlanRequest
  effort?: PlanEffort
  start?: PlanVisit[]
  solver: boolean
  moreHours: number | null
}

/** The best so far, then the last one. */
export type Answered = { soFar: Plan } | { planned: Plan; moreHours: MoreHours[] }

process.on('message', async ({ request, effort, start, solver, moreHours }: PlanTask) => {
  // Waits until each is on its way: what comes next leaves no time to send.
  const answer = (answered: Answered) =>
    new Promise((sent) => process.send?.(answered, undefined, undefined, sent))
  const steps = planInSteps(request, { solver: solver ? await loadSolver() : null, effort, start })
  let step = steps.next()
  for (; !step.done; step = steps.next()) await answer({ soFar: step.value })
  // It is there, whatever becomes of the question after it.
  await answer({ soFar: step.value })
  const worth = moreHours === null ? [] : worthOfMoreHours(request, step.value, moreHours)
  await answer({ planned: step.value, moreHours: worth })
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())

/** A process that plans visits for another one, which does not wait for it. */
import type { PlanRequest } from '@/lib/decisions/plan-request'
import type { PlanVisit } from '@/lib/decisions/plan-value'
import { loadSolver, type Plan, type PlanEffort, planInSteps } from '@/lib/decisions/plan-visits'

/** What is to be planned, from which visits on. */
export type PlanTask = { request: PlanRequest; effort?: PlanEffort; start?: PlanVisit[]; solver: boolean }

/** The best so far, then the last one. */
export type Answered = { soFar: Plan } | { planned: Plan }

process.on('message', async ({ request, effort, start, solver }: PlanTask) => {
  // Waits until each is on its way: what comes next leaves no time to send.
  const answer = (answered: Answered) =>
    new Promise((sent) => process.send?.(answered, undefined, undefined, sent))
  const steps = planInSteps(request, { solver: solver ? await loadSolver() : null, effort, start })
  let step = steps.next()
  for (; !step.done; step = steps.next()) await answer({ soFar: step.value })
  await answer({ planned: step.value })
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())

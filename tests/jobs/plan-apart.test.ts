/** Planning in a process apart: whoever asks is not held up, and has the best so far when it is ended. */
import { describe, expect, it } from 'vitest'
import { checkPlanRequest, type PlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules } from '@/lib/decisions/plan-value'
import type { Plan } from '@/lib/decisions/plan-visits'
import { planApart } from '@/lib/jobs/plan-apart'
import { type Size, someRequest } from '../decisions/plan-instances'

function requestOf(size: Size): PlanRequest {
  const checked = checkPlanRequest(someRequest(3, size))
  if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
  return checked.value
}

const small = requestOf({ jobs: 12, weeks: 3, bays: 2, bayHours: 6 })
const large = requestOf({ jobs: 600, weeks: 12, bays: 4, bayHours: 20 })
const ENDLESS = { rounds: 1e9, nodes: 1e6, seconds: 600 }

describe('planning apart', () => {
  it('gives the plan, told of on the way, while this process goes on', async () => {
    const told: Plan[] = []
    let beats = 0
    const beating = setInterval(() => beats++, 20)
    const plan = await planApart(small, {
      seconds: 60,
      effort: { rounds: 2_000, nodes: 1_000, seconds: 10 },
      onBetter: (better) => told.push(better),
    })
    clearInterval(beating)
    expect(beats).toBeGreaterThan(5)
    expect(told.length).toBeGreaterThan(1)
    expect(brokenRules(small, plan.visits)).toEqual([])
    expect(plan.bound - plan.gain).toBeLessThan(1e-4 * plan.bound)
  })

  it('is ended by an abort with the best so far', async () => {
    const abort = new AbortController()
    const plan = await planApart(large, {
      seconds: 120,
      effort: ENDLESS,
      signal: abort.signal,
      onBetter: ({ bound }) => {
        if (Number.isFinite(bound)) abort.abort()
      },
    })
    expect(plan.visits.length).toBeGreaterThan(20)
    expect(plan.bound).toBeLessThan(Number.POSITIVE_INFINITY)
    expect(brokenRules(large, plan.visits)).toEqual([])
  })

  it('is ended when its time is up, however long it would go on', async () => {
    const begun = performance.now()
    const plan = await planApart(large, { seconds: 12, effort: ENDLESS })
    // Slow machines need most of it to begin; without its end it would take hours.
    expect(performance.now() - begun).toBeLessThan(100_000)
    expect(brokenRules(large, plan.visits)).toEqual([])
  })

  it('throws where it was ended before there was any', async () => {
    await expect(planApart(large, { seconds: 60, signal: AbortSignal.abort() })).rejects.toThrow(
      /without a plan/,
    )
  })
})

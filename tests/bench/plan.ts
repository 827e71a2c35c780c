/** Plans of visits, made apart as the product makes them: how far from their bound they are when their time is up. */
import { checkPlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules } from '@/lib/decisions/plan-value'
import { planApart } from '@/lib/jobs/plan-apart'
import { type Size, someRequest } from '../decisions/plan-instances'
import { atMost, type BenchEntry } from './bench-entry'

const SEEDS = [1, 2, 3]

/** The widest gap of several requests, in per cent of the bound. */
async function widestGap(size: Size, seconds: number, seeds: number[]): Promise<number> {
  let widest = 0
  for (const seed of seeds) {
    const checked = checkPlanRequest(someRequest(seed, size))
    if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
    const plan = await planApart(checked.value, { seconds })
    const broken = brokenRules(checked.value, plan.visits)
    if (broken.length > 0) throw new Error(`The plan breaks a rule: ${JSON.stringify(broken[0])}`)
    widest = Math.max(widest, (100 * (plan.bound - plan.gain)) / plan.bound)
  }
  return widest
}

export async function planBench(): Promise<BenchEntry[]> {
  const tight = { jobs: 200, weeks: 8, bays: 3, bayHours: 10 }
  const roomy = { ...tight, bayHours: 25 }
  const large = { jobs: 1000, weeks: 12, bays: 6, bayHours: 25 }
  return [
    atMost(
      'plan, 200 jobs × 8 weeks × 3 bays, hours for a third of them: gap to the bound after 10 s',
      await widestGap(tight, 10, SEEDS),
      '%',
      1,
    ),
    atMost(
      'plan, 200 jobs × 8 weeks × 3 bays, hours for most of them: gap to the bound after 10 s',
      await widestGap(roomy, 10, SEEDS),
      '%',
      1,
    ),
    atMost(
      'plan, 1,000 jobs × 12 weeks × 6 bays: gap to the bound after 60 s',
      await widestGap(large, 60, [1]),
      '%',
      2,
    ),
  ]
}

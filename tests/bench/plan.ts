/** Plans of visits: how far from their bound they are when their processor time is up. */
import { checkPlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules } from '@/lib/decisions/plan-value'
import { loadSolver, planVisits } from '@/lib/decisions/plan-visits'
import { type Size, someRequest } from '../decisions/plan-instances'
import { atMost, type BenchEntry } from './bench-entry'

const SEEDS = [1, 2, 3]

/** Processor seconds: other programs on the machine do not count. */
function clock(): number {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1e6
}

/** The widest gap of several requests, in per cent of the bound. */
async function widestGap(size: Size, seconds: number, seeds: number[]): Promise<number> {
  const solver = await loadSolver()
  let widest = 0
  for (const seed of seeds) {
    const checked = checkPlanRequest(someRequest(seed, size))
    if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
    const begun = clock()
    const plan = planVisits(checked.value, { solver, clock, goOn: () => clock() - begun < seconds })
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
      'plan, 200 jobs × 8 weeks × 3 bays, hours for a third of them: gap to the bound after 10 s of processor time',
      await widestGap(tight, 10, SEEDS),
      '%',
      1,
    ),
    atMost(
      'plan, 200 jobs × 8 weeks × 3 bays, hours for most of them: gap to the bound after 10 s of processor time',
      await widestGap(roomy, 10, SEEDS),
      '%',
      1,
    ),
    atMost(
      'plan, 1,000 jobs × 12 weeks × 6 bays: gap to the bound after 60 s of processor time',
      await widestGap(large, 60, [1]),
      '%',
      2,
    ),
  ]
}

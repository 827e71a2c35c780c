/** The jobs of one vehicle that a plan may choose among, each with what it gains in each week of the plan. */
import { meanAhead } from '@/lib/scoring/ahead'
import { type AdviceGround, type ComponentDecision, rateOf } from './advice'
import { jobCost } from './costs'
import { courseOf, decisionsOf, lossesOf } from './inner/courses'
import { accessOf, isAsGoodAsNew, withFartherAges } from './inner/job-terms'
import type { PlanJob } from './plan-request'
import { upstreamDamage } from './upstream-damage'
import { MOMENTS } from './waiting'

export interface PlanWeeks {
  weeks: number
  /** Days from the as-of day to the beginning of the first week; negative where it has begun: then it begins today. */
  firstInDays?: number
  /** The first week in which a part is there; the first week where it is not said. */
  partsInWeek?: (part: string) => number
  /** Ids of jobs that somebody agreed on: they are told whether or not they are worth it. */
  agreed?: ReadonlySet<string>
}

const WEEK = 7
/** Beyond the plan's end, in slots: a part as good as new has its best moment many years ahead. */
const FAR_MOMENTS = [0, ...MOMENTS, 130, 195, 290, 440]

/**
 * One job a component that could be worth it. What one gains in week w is K(H) − L(w), H being the end of the plan and L
 * taken at the beginning of the week: what doing it then saves against leaving it until whenever after the plan is best.
 * The damage below that is avoided from then to H counts as well. Where the stated interval has run out it is never less
 * than nothing. A vehicle that has failed or must not be driven stands: each day until the end of the plan costs a day
 * off the road, shared among the jobs for which it stands.
 *
 * A part without a price is a job only where it must be done.
 *
 * @returns none where nothing is a reason to come
 */
export function planJobs(unit: string, ground: AdviceGround, plan: PlanWeeks): PlanJob[] {
  const decisions = decisionsOf(ground)
  const standing = decisions.filter((decision, c) => stands(ground, decision, c)).length
  const { labourRate } = ground.prices
  const isAgreed = ({ id }: PlanJob) => plan.agreed?.has(id) ?? false
  const jobs = gainsOf(ground, plan, decisions, standing).flatMap(({ gains, leftAlone }, c) => {
    const job = jobOf(unit, ground, c, { stop: decisions[c]!.advice === 'stop', gains, plan })
    return leftAlone && !isAgreed(job) ? [] : [job]
  })
  const isReason = (job: PlanJob) => job.stop || job.gainByWeek.some((gain) => gain > 0)
  if (!jobs.some(isReason)) return jobs.filter(isAgreed)
  return jobs.filter((job) => {
    const shared = job.access === null ? 0 : job.sharedHours * labourRate
    return job.stop || isAgreed(job) || Math.max(...job.gainByWeek) + shared > 0
  })
}

/** How a job of a vehicle is known, the same when the plan is made again. */
export const planJobId = (unit: string, weakPoint: string, position: number) =>
  `${unit} ${weakPoint} ${position}`

const stands = (ground: AdviceGround, { advice }: ComponentDecision, c: number): boolean =>
  advice === 'stop' || ground.vehicle.belief.beliefs[c]!.failed

function jobOf(
  unit: string,
  ground: AdviceGround,
  c: number,
  { stop, gains, plan }: { stop: boolean; gains: number[]; plan: PlanWeeks },
): PlanJob {
  const { weakPoint, position } = ground.vehicle.belief.beliefs[c]!.component
  const { hours, sharedHours } = weakPoint.cost
  return {
    id: planJobId(unit, weakPoint.key, position),
    unit,
    weakPoint: weakPoint.key,
    positions: [position],
    hours,
    sharedHours: Math.min(sharedHours, hours),
    access: accessOf(weakPoint),
    stop,
    gainByWeek: gains,
    partsInWeek: weakPoint.part === null ? 0 : (plan.partsInWeek?.(weakPoint.part) ?? 0),
  }
}

/**
 * By component: what it gains by week, and whether it is left alone whatever else is done: without a price, or as good
 * as new by the rule of bundles.
 */
function gainsOf(
  ground: AdviceGround,
  { weeks, firstInDays = 0 }: PlanWeeks,
  decisions: readonly ComponentDecision[],
  standing: number,
): { gains: number[]; leftAlone: boolean }[] {
  const { vehicle, clock, prices } = ground
  const { belief } = vehicle
  const beginnings = Array.from({ length: weeks }, (_, week) => Math.max(firstInDays + week * WEEK, 0))
  const end = firstInDays + weeks * WEEK
  const stepsAfter = (days: number) => belief.ageingAhead(meanAhead(clock, { days }))
  const weekly = beginnings.map(stepsAfter)
  const moments = FAR_MOMENTS.map((slots) => stepsAfter(end + slots * prices.slotDays))
  const damage = [...beginnings, end].map((days) => upstreamDamage(ground, days))
  return belief.beliefs.map((state, c) => {
    const decision = decisions[c]!
    const stood = stands(ground, decision, c)
    const far = withFartherAges(ground, c, stepsOf(moments, c))
    const left = state.failed ? null : leftUntil(ground, c, stepsOf(weekly, c), far)
    const gains = beginnings.map((days, week) => {
      const aside = stood ? ((end - days) * prices.dayOffRoad) / standing : Number.NEGATIVE_INFINITY
      const saved = Math.max(left?.[week] ?? Number.NEGATIVE_INFINITY, aside, decision.due ? 0 : aside)
      return saved + damage[weeks]![c]! - damage[week]![c]!
    })
    const cost = jobCost(state.component.weakPoint, prices).planned
    const isWorthless = !(cost > 0) || isAsGoodAsNew({ gain: Math.max(...gains), cost })
    return { gains, leftAlone: !stood && !decision.due && isWorthless }
  })
}

const stepsOf = (steps: readonly Float64Array[], c: number) => steps.map((each) => each[c]!)

/** K(H) − L(w), by week. */
function leftUntil(
  ground: AdviceGround,
  c: number,
  weekly: readonly number[],
  far: readonly number[],
): number[] {
  const state = ground.vehicle.belief.beliefs[c]!
  const { weakPoint } = state.component
  const cost = jobCost(weakPoint, ground.prices)
  const rate = rateOf(ground, weakPoint, c)
  const steps = [...weekly, ...far]
  const losses = lossesOf(courseOf(ground, c), steps, cost, rate)
  const least = Math.min(...losses.slice(weekly.length))
  return losses.slice(0, weekly.length).map((loss) => least - loss)
}

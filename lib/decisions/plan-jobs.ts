/** The jobs of one vehicle that a plan may choose among, each with what it gains in each week of the plan. */
import { meanAhead } from '@/lib/scoring/ahead'
import { type AdviceGround, type ComponentDecision, decisionsBeforeLooks, rateOf } from './advice'
import { jobCost } from './costs'
import { courseOf, leastOver, lossAfter } from './inner/courses'
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
  const isAgreed = ({ id }: Pick<PlanJob, 'id'>) => plan.agreed?.has(id) ?? false
  const decisions = decisionsBeforeLooks(ground)
  const gainsOf = weeklyGains(ground, plan, decisions)
  const jobs = decisions.flatMap(({ advice }, c) => {
    const job = jobOf(unit, ground, c, plan)
    const gainByWeek = gainsOf(c, isAgreed(job) ? null : labourShared(job, ground))
    return gainByWeek ? [{ ...job, stop: advice === 'stop', gainByWeek }] : []
  })
  const isReason = (job: PlanJob) => job.stop || job.gainByWeek.some((gain) => gain > 0)
  if (!jobs.some(isReason)) return jobs.filter(isAgreed)
  return jobs.filter(
    (job) => job.stop || isAgreed(job) || Math.max(...job.gainByWeek) + labourShared(job, ground) > 0,
  )
}

/** The most that another job of its group spares it. */
const labourShared = (
  { access, sharedHours }: Pick<PlanJob, 'access' | 'sharedHours'>,
  { prices }: AdviceGround,
): number => (access === null ? 0 : sharedHours * prices.labourRate)

/** How a job of a vehicle is known, the same when the plan is made again. */
export const planJobId = (unit: string, weakPoint: string, position: number) =>
  `${unit} ${weakPoint} ${position}`

const stands = (ground: AdviceGround, { advice }: ComponentDecision, c: number): boolean =>
  advice === 'stop' || ground.vehicle.belief.beliefs[c]!.failed

function jobOf(
  unit: string,
  ground: AdviceGround,
  c: number,
  plan: PlanWeeks,
): Omit<PlanJob, 'stop' | 'gainByWeek'> {
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
    partsInWeek: weakPoint.part === null ? 0 : (plan.partsInWeek?.(weakPoint.part) ?? 0),
  }
}

/**
 * What a component gains by week; null where it is no job: left alone whatever else is done (without a price, or as good
 * as new by the rule of bundles), or worth less than the labour that others spare it.
 *
 * @returns of a component, and that labour; null: its gains are told in any case
 */
function weeklyGains(
  ground: AdviceGround,
  { weeks, firstInDays = 0 }: PlanWeeks,
  decisions: readonly ComponentDecision[],
): (c: number, labour: number | null) => number[] | null {
  const { vehicle, clock, prices } = ground
  const { belief } = vehicle
  const beginnings = Array.from({ length: weeks }, (_, week) => Math.max(firstInDays + week * WEEK, 0))
  const end = firstInDays + weeks * WEEK
  const far = FAR_MOMENTS.map((slots) => end + slots * prices.slotDays)
  const steps = belief.ageingAheads([...beginnings, ...far].map((days) => meanAhead(clock, { days })))
  const [weekly, moments] = [steps.slice(0, weeks), steps.slice(weeks)]
  const damage = [...beginnings, end].map((days) => upstreamDamage(ground, days))
  const standing = decisions.filter((decision, c) => stands(ground, decision, c)).length
  return (c, labour) => {
    const decision = decisions[c]!
    const { failed, component } = belief.beliefs[c]!
    const stood = stands(ground, decision, c)
    const avoided = beginnings.map((_, week) => damage[weeks]![c]! - damage[week]![c]!)
    // Standing still or overdue, waiting saves nothing.
    const least = beginnings.map((days) => {
      const aside = stood ? ((end - days) * prices.dayOffRoad) / standing : Number.NEGATIVE_INFINITY
      return decision.due ? Math.max(aside, 0) : aside
    })
    if (failed) return least.map((gain, week) => gain + avoided[week]!)
    const cost = jobCost(component.weakPoint, prices)
    const loss = lossAfter(courseOf(ground, c), cost, rateOf(ground, component.weakPoint, c))
    const losses = weekly.map((steps) => loss(steps[c]!))
    const gainIn = (week: number, left: number) =>
      Math.max(left - losses[week]!, least[week]!) + avoided[week]!
    const mayBeJob = (left: number) => {
      if (stood || decision.due || labour === null) return true
      let gain = Number.NEGATIVE_INFINITY
      for (let week = 0; week < weeks; week++) gain = Math.max(gain, gainIn(week, left))
      return cost.planned > 0 && !isAsGoodAsNew({ gain, cost: cost.planned }) && gain + labour > 0
    }
    // What is left until a better moment gains less.
    const best = leastOver(loss, withFartherAges(ground, c, stepsOf(moments, c)), mayBeJob)
    return best && beginnings.map((_, week) => gainIn(week, best.loss))
  }
}

const stepsOf = (steps: readonly Float64Array[], c: number) => steps.map((each) => each[c]!)

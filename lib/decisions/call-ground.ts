/** What a call rests on: the jobs of one vehicle at its customer's prices, with how surely each part is still good. */
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { meanAhead } from '@/lib/scoring/ahead'
import { chancesWithin } from '@/lib/scoring/score-components'
import { type AdviceGround, decisionsBeforeLooks, rateOf } from './advice'
import type { BundleCandidate } from './bundle'
import { bundleCandidates } from './bundle-candidates'
import { type JobCost, jobCost } from './costs'
import { lookedAtOn } from './looked-at'
import { upstreamDamage } from './upstream-damage'
import { bandOfLeaving, leaveUntil, lossOfLeaving } from './waiting'
import type { CallCandidate } from './worth-a-call'

/** A letter looks this far ahead: three months, which people can picture. */
export const LETTER_DAYS = 90

/** The chance that a part fails within the letter's days if it is left, with its 80 % band. */
export type LetterChance = { pFail: number; pLow: number; pHigh: number }

/** A job with what a letter says of it. */
export interface LetterCandidate extends CallCandidate {
  chance: LetterChance
  costs: JobCost
}

/** Parts whose signs are shared are believed together: by hypothesis its weight, and how surely each is good. */
export type Together = { jobs: number[]; hypotheses: { weight: number; good: number[] }[] }

/** Why a vehicle is telephoned about: it must not be driven, or a part is on record as failed. */
export type Telephone = 'stop' | 'failed'

export interface CallGround {
  telephone: Telephone | null
  candidates: LetterCandidate[]
  /** The candidates by their places in the list. */
  together: Together[]
  labourRate: number
}

/**
 * What doing a due job now saves is held against leaving it for the letter's days, for nobody comes every fortnight: it
 * is L(90 days) − C_p with the damage upstream until then. What goes along is always held against its own best moment.
 *
 * @param ground at the customer's prices
 */
export function callGround(ground: AdviceGround, records: VehicleRecords): CallGround {
  const { belief } = ground.vehicle
  const none = { candidates: [], together: [], labourRate: ground.prices.labourRate }
  const decisions = decisionsBeforeLooks(ground)
  if (decisions.some(({ advice }) => advice === 'stop')) return { ...none, telephone: 'stop' }
  if (belief.beliefs.some(({ failed }) => failed)) return { ...none, telephone: 'failed' }
  const jobs = bundleCandidates(ground)
  if (jobs.length === 0) return { ...none, telephone: null }
  const placed = jobs.map((job) => indexOf(ground, job))
  const leaving = new LeavingForLong(ground)
  const candidates = jobs.map((job, i): LetterCandidate => {
    const component = placed[i]!
    const { weakPoint } = belief.beliefs[component]!.component
    const isOut = decisions[component]!.due
    return {
      ...(job.due ? { ...job, ...leaving.of(component, isOut) } : job),
      sure: job.due && job.gainBand.low > 0,
      lookedOn: lookedAtOn(records, { plan: belief.plan, index: component }, ground.clock.asOf),
      intervalOut: isOut && weakPoint.confidence !== 'hunch',
      chance: leaving.chances[component]!,
      costs: jobCost(weakPoint, ground.prices),
    }
  })
  return { ...none, telephone: null, candidates, together: togetherOf(ground, placed) }
}

const indexOf = ({ vehicle }: AdviceGround, job: BundleCandidate): number =>
  vehicle.belief.plan.components.findIndex(
    ({ weakPoint, position }) => weakPoint.key === job.weakPoint && position === job.position,
  )

/** A vehicle left alone for the letter's days. */
class LeavingForLong {
  readonly chances: LetterChance[]
  private readonly steps: Float64Array
  private readonly damage: number[]

  constructor(private readonly ground: AdviceGround) {
    const { vehicle, clock } = ground
    const days = { days: LETTER_DAYS }
    this.chances = chancesWithin(vehicle.belief, clock, days).components
    this.steps = vehicle.belief.ageingAhead(meanAhead(clock, days))
    this.damage = upstreamDamage(ground, LETTER_DAYS)
  }

  /** L(90 days) − C_p of a component with its band; at least nothing where its stated interval has run out. */
  of(component: number, intervalOut: boolean): Pick<BundleCandidate, 'gain' | 'gainBand'> {
    const { ground } = this
    const state = ground.vehicle.belief.beliefs[component]!
    const { weakPoint } = state.component
    const cost = jobCost(weakPoint, ground.prices)
    const rate = rateOf(ground, weakPoint, component)
    const [nodes, step] = [state.currentNodes(), this.steps[component]!]
    const loss = lossOfLeaving(leaveUntil(nodes, [step]), 0, cost, rate)
    const band = bandOfLeaving(nodes, step, cost, rate)
    const told = (value: number) =>
      Math.max(value, intervalOut ? 0 : Number.NEGATIVE_INFINITY) + this.damage[component]!
    return { gain: told(loss), gainBand: { low: told(band.low), high: told(band.high) } }
  }
}

function togetherOf({ vehicle: { belief } }: AdviceGround, placed: readonly number[]): Together[] {
  const groups = new Map<number, number[]>()
  placed.forEach((component, job) => {
    const group = belief.plan.groupOf[component]!
    groups.set(group, [...(groups.get(group) ?? []), job])
  })
  return Array.from(groups.values(), (jobs) => {
    const table = belief.jointOf(placed[jobs[0]!]!).joint.table()
    const hypotheses = table.map(({ weight, developing }) => ({
      weight,
      good: jobs.map((job) => 1 - developing[belief.jointOf(placed[job]!).index]!),
    }))
    return { jobs, hypotheses }
  })
}

/** The chance that every one of some parts is still good when it is opened: then the money was spent for nothing. */
export function chanceAllGood(
  { candidates, together }: Pick<CallGround, 'candidates' | 'together'>,
  members: readonly LetterCandidate[],
): number {
  const places = new Set(members.map((job) => candidates.indexOf(job)))
  return together.reduce((all, { jobs, hypotheses }) => {
    const here = hypotheses.reduce(
      (sum, { weight, good }) =>
        sum + weight * good.reduce((each, g, i) => (places.has(jobs[i]!) ? each * g : each), 1),
      0,
    )
    return all * Math.min(Math.max(here, 0), 1)
  }, 1)
}

/**
 * The chance that any of some parts fails within the letter's days, positions taken as independent; its band is that of
 * all of them at their low, and all at their high end, so rather too wide than too narrow.
 */
export function chanceAny(members: readonly { chance: LetterChance }[]): LetterChance {
  const any = (of: (chance: LetterChance) => number) =>
    1 - members.reduce((none, { chance }) => none * (1 - of(chance)), 1)
  return { pFail: any((c) => c.pFail), pLow: any((c) => c.pLow), pHigh: any((c) => c.pHigh) }
}

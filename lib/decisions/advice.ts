/** From chances and costs to a cost of waiting and one word of advice a component. */
import type { WeakPoint } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import { meanAhead } from '@/lib/scoring/ahead'
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'
import type { Parameters } from '@/lib/scoring/parameters'
import type { ComponentChance } from '@/lib/scoring/score-components'
import { type JobCost, jobCost, type LongRunRates, type Prices } from './costs'
import { OncePerGround, type Reckoned } from './inner/once-per-ground'
import { renewalAge, statedIntervalRate } from './intervals'
import { type Stake, worthOfLooking } from './look-worth'
import {
  bandOfLeaving,
  type Leaving,
  leastLoss,
  leaveUntil,
  lossOfLeaving,
  MOMENTS,
  type MoneyBand,
} from './waiting'

export type Advice = 'stop' | 'book' | 'check' | 'watch' | 'fine'

/** Most urgent first. */
export const ADVICE: readonly Advice[] = ['stop', 'book', 'check', 'watch', 'fine']

export interface ComponentDecision {
  costOfWaiting: number
  /** Its 80 % band; told where waiting costs something. */
  waitingBand: MoneyBand | null
  advice: Advice
  /** The interval that the library states has run out. */
  due: boolean
}

/** What advice is made from. */
export interface AdviceGround {
  vehicle: FollowedVehicle
  clock: VehicleClock
  parameters: Parameters
  prices: Prices
  settings: Settings
  rates: LongRunRates
  /** What has been reckoned of it (`inner/once-per-ground`). */
  reckoned?: Reckoned
}

/** A part whose failing can hurt somebody has a far lower limit, which money cannot move. */
const HARM_SHARE = 0.1

interface Waiting extends Stake {
  component: number
  cost: JobCost
  costOfWaiting: number
  bandOfWaiting: () => MoneyBand
  failsInSlot: number
}

/** What is advised for each component, and the looks from which the advice `check` comes. */
export interface VehicleAdvice {
  components: ComponentDecision[]
  looks: WorthwhileLook[]
}

/** @param atAdviceHorizon chances within the organisation's fixed horizon, which `watch` asks */
export function adviseVehicle(
  ground: AdviceGround,
  atAdviceHorizon: readonly ComponentChance[],
): VehicleAdvice {
  const { waiting, first } = begun.of(ground)
  const looks = looksOfWorth(ground, waiting, first)
  const worthChecking = new Set(looks.flatMap(({ moved }) => [...moved.keys()]))
  const components = first.map((decision, c): ComponentDecision => {
    if (decision.advice !== 'fine') return decision
    if (worthChecking.has(c)) return { ...decision, advice: 'check' }
    return atAdviceHorizon[c]!.pFail > ground.settings.watchLimit
      ? { ...decision, advice: 'watch' }
      : decision
  })
  return { components, looks }
}

/** Which components the advice would have done: those to `stop` for and those to `book`. */
export const jobsAdvised = (ground: AdviceGround): boolean[] =>
  decisionsBeforeLooks(ground).map(({ advice }) => advice !== 'fine')

/**
 * What is to be done of each component whatever a look would say: `stop`, `book`, or `fine` where neither holds. A ground
 * is of one moment, so that looks, visit and plan need it worked out once.
 */
export const decisionsBeforeLooks = (ground: AdviceGround): ComponentDecision[] => begun.of(ground).first

const begun = new OncePerGround((ground: AdviceGround) => {
  const waiting = waitingOf(ground)
  return { waiting, first: firstDecisions(ground, waiting) }
})

function firstDecisions(ground: AdviceGround, waiting: Waiting[]): ComponentDecision[] {
  const stopped = new Set(ground.vehicle.stops.flatMap((stop) => [...stop.unresolved]))
  return waiting.map((w, c) => firstAdvice(ground, w, stopped.has(c)))
}

/** `stop`, `book`, or `fine` where neither holds. */
function firstAdvice(input: AdviceGround, waiting: Waiting, stopSign: boolean): ComponentDecision {
  const { vehicle, settings, prices } = input
  const belief = vehicle.belief.beliefs[waiting.component]!
  const { severity, harm } = belief.component.weakPoint
  if (belief.failed) {
    const advice = severity === 'stop' || harm || stopSign ? 'stop' : 'book'
    const costOfWaiting = prices.slotDays * prices.dayOffRoad
    return { costOfWaiting, waitingBand: { low: costOfWaiting, high: costOfWaiting }, advice, due: false }
  }
  const due = isDue(vehicle, waiting.component)
  const costOfWaiting = due ? Math.max(waiting.costOfWaiting, 0) : waiting.costOfWaiting
  const limit = settings.stopLimit * (harm ? HARM_SHARE : 1)
  const dangerous = (severity === 'stop' || harm) && waiting.failsInSlot > limit
  const advice = stopSign || dangerous ? 'stop' : due || costOfWaiting > 0 ? 'book' : 'fine'
  return { costOfWaiting, waitingBand: costOfWaiting > 0 ? waiting.bandOfWaiting() : null, advice, due }
}

function isDue(vehicle: FollowedVehicle, component: number): boolean {
  const { renewEvery } = vehicle.belief.beliefs[component]!.component.weakPoint
  return renewEvery !== null && renewalAge(vehicle.belief, component) >= renewEvery
}

/**
 * Each component left alone. The cost of waiting one slot is the mean over the nodes; the farther curve, which
 * only looks read, is at the central parameters, as the hypotheses are that weigh a look's outcomes.
 */
function waitingOf(input: AdviceGround): Waiting[] {
  const { vehicle, clock, prices } = input
  const { belief } = vehicle
  const stepsUntil = (moments: readonly number[]) =>
    belief.ageingAheads(moments.map((slots) => meanAhead(clock, { days: slots * prices.slotDays })))
  const toSlot = stepsUntil(MOMENTS.slice(0, 1))[0]!
  let farther: Float64Array[] | null = null
  return belief.beliefs.map((state, component) => {
    const { weakPoint } = state.component
    const cost = jobCost(weakPoint, prices)
    const nodes = state.currentNodes()
    const step = state.failed ? 0 : toSlot[component]!
    const slot = leaveUntil(nodes, [step])
    const rate = rateOf(input, weakPoint, component)
    let leaving: Leaving | null = null
    return {
      component,
      cost,
      costOfWaiting: lossOfLeaving(slot, 0, cost, rate),
      bandOfWaiting: () => bandOfLeaving(nodes, step, cost, rate),
      failsInSlot: slot.failsSound[0]! + slot.failsDeveloping[0]!,
      loss: (lambda) => {
        farther ??= stepsUntil(MOMENTS)
        leaving ??= leaveUntil(state.central, state.failed ? [0] : farther.map((steps) => steps[component]!))
        return leastLoss(leaving, cost, rate, lambda)
      },
    }
  })
}

/** g*, or where the library states an interval at least the rate at which that interval is right. */
export function rateOf(input: AdviceGround, weakPoint: WeakPoint, component: number): number {
  const { vehicle, parameters, rates, prices } = input
  const { plan } = vehicle.belief
  const best = rates(weakPoint, plan.variant, parameters)
  if (weakPoint.renewEvery === null) return best
  const { unplanned, planned } = jobCost(weakPoint, prices)
  const { how, revision } = vehicle.belief.beliefs[component]!.beginning
  // An interval is stated of parts that last; a quick fix wears out long before it.
  const life = parameters.of(weakPoint, how === 'temporary' ? null : revision, plan.variant).nodes
  const age = weakPoint.renewEvery * vehicle.belief.beliefs[component]!.duty
  return Math.max(best, statedIntervalRate(life, age) * (unplanned - planned))
}

export type LookKind = keyof Prices['lookHours']
export const LOOK_KINDS: readonly LookKind[] = ['scan', 'visual', 'road', 'measure']
/** Signs weighed at once; a group with more is judged by those that tell most. */
const MOST_SIGNS = 12

/** A kind of look that is worth more than it costs. */
export interface WorthwhileLook {
  kind: LookKind
  /** Expected saving, net of the look's price. */
  worth: number
  hours: number
  price: number
  /** Components that some outcome would move across acting and waiting, and what is right of each without it. */
  moved: Map<number, 'act' | 'leave'>
}

/** Each kind of look at one vehicle whose worth, net of its price, is positive. */
export function worthwhileLooks(ground: AdviceGround): WorthwhileLook[] {
  const { waiting, first } = begun.of(ground)
  return looksOfWorth(ground, waiting, first)
}

function looksOfWorth(input: AdviceGround, waiting: Waiting[], first: ComponentDecision[]): WorthwhileLook[] {
  const { vehicle, prices } = input
  return LOOK_KINDS.flatMap((kind) => {
    const hours = prices.lookHours[kind]
    const price = hours * prices.labourRate
    const looks = groupedSigns(input, kind).map((signs) => ({
      signs,
      stakes: stakesOf(vehicle, signs, waiting, first),
    }))
    // Perfect knowledge is worth no less than the best look: most vehicles end here.
    const bound = looks.reduce(
      (a, { stakes }) => a + stakes.reduce((b, s) => b + perfectWorth(vehicle, s), 0),
      0,
    )
    if (bound <= price) return []
    const results = looks.map(({ signs, stakes }) => worthOfLooking(vehicle, signs, stakes))
    const worth = results.reduce((a, r) => a + r.worth, 0) - price
    if (!(worth > 0)) return []
    const moved = new Map(
      results.flatMap((result) =>
        [...result.moved].map((c) => [c, waiting[c]!.loss(1) > 0 ? 'act' : 'leave'] as const),
      ),
    )
    return [{ kind, worth, hours, price, moved }]
  })
}

/** The signs that a kind of look would tell something new about, by group. */
export function groupedSigns({ vehicle, clock }: AdviceGround, kind: LookKind): number[][] {
  const { plan } = vehicle.belief
  const now = { day: clock.asOf, km: clock.kmAt(clock.asOf) }
  const groups = new Map<number, number[]>()
  for (const sign of plan.lookedForBy[kind]) {
    const cause = plan.signs[sign]!.causes[0]
    if (!cause || vehicle.windows.isOpen(sign, now)) continue
    const group = plan.groupOf[cause.component]!
    groups.set(group, [...(groups.get(group) ?? []), sign])
  }
  return Array.from(groups.values(), (signs) => mostTelling(vehicle, signs))
}

function mostTelling(vehicle: FollowedVehicle, signs: number[]): number[] {
  if (signs.length <= MOST_SIGNS) return signs
  const { belief } = vehicle
  const telling = (sign: number) =>
    belief.plan.signs[sign]!.causes.reduce((a, c) => a + c.detect * belief.developing(c.component), 0)
  return [...signs].sort((a, b) => telling(b) - telling(a)).slice(0, MOST_SIGNS)
}

function stakesOf(
  vehicle: FollowedVehicle,
  signs: number[],
  waiting: Waiting[],
  first: ComponentDecision[],
): Waiting[] {
  const touched = new Set(signs.flatMap((s) => vehicle.belief.plan.signs[s]!.causes.map((c) => c.component)))
  return waiting.filter(
    (w) =>
      touched.has(w.component) &&
      !vehicle.belief.beliefs[w.component]!.failed &&
      first[w.component]!.advice !== 'stop' &&
      w.cost.unplanned > w.cost.planned,
  )
}

/** Expected saving if the component's state were known: the bound on every look at it. */
function perfectWorth(vehicle: FollowedVehicle, stake: Waiting): number {
  const p = vehicle.belief.developing(stake.component)
  const known = p * Math.min(0, stake.loss(1e9)) + (1 - p) * Math.min(0, stake.loss(0))
  return Math.max(Math.min(0, stake.loss(1)) - known, 0)
}

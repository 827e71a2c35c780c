/**
 * Learns each weak point's life from a fleet's own records: the vehicles are followed under the library's statement,
 * the lives that this gives are fitted, and both once more under what was learned, because what a look says of a part
 * depends on what is believed of the others.
 */
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { fitLives, type LivesFit } from '@/lib/model/fit-lives'
import type { LivedLife } from '@/lib/model/lived-life'
import type { Family, Library, WeakPoint } from '@/lib/records/library'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import { EnginePlans } from './engine-plans'
import { type FamilyFit, type FleetFit, type LearnedLife, wasLearned } from './family-fit'
import { clockOf, type FleetVehicle } from './fleet-vehicles'
import { livesOf } from './follow-vehicle'
import { lifeFactors } from './life-ways'
import { type ObservedLife, observedLife } from './observed-life'
import { learnedParameters, type Parameters, statedParameters } from './parameters'
import { SignCounts } from './sign-counts'
import { furtherFrom, learnRates } from './sign-rates'
import { lastRecordOn, watchOf } from './watch'
import type { FollowInput } from './way'

export interface FitInput {
  /** Every vehicle on record, those that have left included: their lives count. */
  fleet: readonly FleetVehicle[]
  library: Library
  asOf: Day
  /**
   * What was learned a little earlier under the same library. The vehicles are then followed under it, once, and the
   * fits begin from its peaks.
   */
  earlier?: FleetFit | null
}

/** Vehicles followed so far, of all that will be: each is followed once a round. */
export interface FitProgress {
  done: number
  total: number
}

const ROUNDS = 2
const TOLD_EVERY = 100
/** A vehicle without a record for so long is lost from sight at its last. */
const LOST_AFTER_DAYS = 400

/** A vehicle ready to be followed, all but what depends on what was learned. */
export type Followable = { input: Omit<FollowInput, 'parameters' | 'plan'>; seenUntil: Day }

/** Learns at one go. */
export function fitFleet(input: FitInput, onProgress?: (progress: FitProgress) => void): FleetFit {
  const steps = fitInSteps(input)
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return step.value
    onProgress?.(step.value)
  }
}

/** Learns in steps of a moment each, between which others have their turn. */
export function* fitInSteps({ fleet, library, asOf, earlier }: FitInput): Generator<FitProgress, FleetFit> {
  const families = new Map<string, FamilyFit>()
  const total = roundsFrom(earlier) * fleet.length
  let done = 0
  for (const family of library.families) {
    const vehicles = fleet
      .filter((one) => one.records.vehicle.family === family.key)
      .map((one) => followable(one, asOf))
    const steps = fitFamily(family, vehicles, asOf, earlier?.families.get(family.key) ?? null)
    let step = steps.next()
    for (; !step.done; step = steps.next()) {
      done += step.value
      yield { done, total }
    }
    families.set(family.key, step.value)
  }
  yield { done: total, total }
  return { asOf, families }
}

/** A vehicle as it is followed to find its lives, and until when it was in sight. */
export function followable(one: FleetVehicle, asOf: Day): Followable {
  const { records } = one
  const { clock } = clockOf(one, asOf)
  const watch = watchOf(records, clock, asOf)
  return { input: { records, clock, watch, asOf }, seenUntil: seenUntil(records, asOf) }
}

/** When a vehicle left or was lost from sight, if it was. */
function seenUntil(records: VehicleRecords, asOf: Day): Day {
  const { soldOn, leftOn, status } = records.vehicle
  const last = Math.min(lastRecordOn(records) ?? asOf, asOf)
  const left = soldOn ?? leftOn ?? (status === 'active' || status === 'stock' ? asOf : last)
  return Math.min(left, asOf - last > LOST_AFTER_DAYS ? last : asOf)
}

const roundsFrom = (earlier: FleetFit | FamilyFit | null | undefined) => (earlier ? 1 : ROUNDS)

/** Yields how many vehicles were followed since it did last. */
function* fitFamily(
  family: Family,
  vehicles: Followable[],
  asOf: Day,
  earlier: FamilyFit | null,
): Generator<number, FamilyFit> {
  let fit = earlier && { ...earlier, asOf }
  const near = earlier?.weakPoints
  for (let left = roundsFrom(earlier); left > 0; left--) {
    const parameters: Parameters = fit
      ? learnedParameters(family, fit, 'central')
      : statedParameters(family, 'central')
    const plans = new EnginePlans(asOf, fit && { families: new Map([[family.key, fit]]) })
    const { lives, counts } = yield* collectLives(family, vehicles, { plans, parameters })
    const learned = family.weakPoints.map((weakPoint) => {
      const { key } = weakPoint
      const how = { near: near?.get(key) ?? null, last: left === 1 }
      return [key, learn(weakPoint, lives.get(key)!, how)] as const
    })
    const weakPoints = new Map(learned)
    const signs = learnRates(family, counts, (key) => isKnown(weakPoints.get(key)!))
    fit = { asOf, weakPoints, signs: left > 1 ? furtherFrom(family, signs) : signs }
  }
  return fit!
}

interface CollectedLives {
  lives: LivedLife[]
  leftOut: number
  /** Those of the latter that began when somebody knew. */
  beforeWatch: number
}

function* collectLives(
  family: Family,
  vehicles: Followable[],
  { plans, parameters }: { plans: EnginePlans; parameters: Parameters },
): Generator<number, { lives: Map<string, CollectedLives>; counts: SignCounts }> {
  const counts = new SignCounts()
  const collected = new Map<string, CollectedLives>(
    family.weakPoints.map(({ key }) => [key, { lives: [], leftOut: 0, beforeWatch: 0 }]),
  )
  for (const [i, { input, seenUntil }] of vehicles.entries()) {
    const plan = plans.of(family, input.records)
    const log = livesOf({ ...input, plan, parameters }, seenUntil)
    const { lives, leftOut, beforeWatch } = log
    counts.add(log, plan, parameters)
    plan.components.forEach(({ weakPoint }, component) => {
      const here = collected.get(weakPoint.key)!
      here.lives.push(...lives[component]!)
      here.leftOut += leftOut[component]!
      here.beforeWatch += beforeWatch[component]!
    })
    if ((i + 1) % TOLD_EVERY === 0) yield TOLD_EVERY
  }
  yield vehicles.length % TOLD_EVERY
  return { lives: collected, counts }
}

/** Whether the state of some part was found: without, nothing tells a sign that is seen too rarely from a rare defect. */
const isKnown = ({ lives: { failed, developing, sound } }: LearnedLife) => failed + developing + sound > 0

/** @param how where a peak was found before, and whether the nodes of this one will be asked for */
function learn(
  weakPoint: WeakPoint,
  collected: CollectedLives,
  how: { near: LearnedLife | null; last: boolean },
): LearnedLife {
  const { lives, leftOut } = collected
  const statement = {
    central: fromStatement({ ...weakPoint.onset, warning: weakPoint.warning }),
    spread: GRADE_SPREAD[weakPoint.confidence],
    factors: lifeFactors(weakPoint),
  }
  const near = how.near && wasLearned(how.near) ? how.near : null
  const { endings, ...fit } = fitLives(lives, statement, { near, weigh: how.last })
  const learned = { ...fit, lives: countsOf(endings, leftOut) }
  return how.last ? { ...learned, observed: observed(weakPoint, collected) } : learned
}

function observed(weakPoint: WeakPoint, { lives, leftOut, beforeWatch }: CollectedLives): ObservedLife {
  const unknownStart = leftOut - beforeWatch
  const warns = weakPoint.warning > 0
  return observedLife(lives, { unknownStart, beforeWatch }, { warns, factors: lifeFactors(weakPoint) })
}

function countsOf(endings: LivesFit['endings'], leftOut: number): LearnedLife['lives'] {
  return {
    failed: endings.failed + endings['failed-since'],
    developing: endings.developing + endings.noticed,
    sound: endings.sound,
    running: endings.open,
    leftOut,
  }
}

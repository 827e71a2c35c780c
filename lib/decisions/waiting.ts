/**
 * What it costs to leave a component until later.
 *
 * `L(τ) = C_p + P(fail ≤ τ)·(C_f − C_p) − g*·E[clock units to min(failure, τ)]`: the expected cost of leaving
 * it until τ, against a long-run rate; `K(t) = min over τ ≥ t of L(τ)`; the cost of waiting one slot is
 * `L(slot) − C_p`. Kept apart for "sound" and "going", so that a look's outcome re-weighs the curve at once.
 */
import { failsFromDeveloping, failsFromSound, weightedQuantiles } from '@/lib/model/outlook'
import { type Strands, sum } from '@/lib/model/strands'
import type { JobCost } from './costs'

/** A component left alone until some later moments, by the state it is in now. */
export interface Leaving {
  /** Masses of the two states now; they sum to 1. */
  sound: number
  developing: number
  /** By moment: mass that fails by then, and expected clock units until then or failure, of each state. */
  failsSound: Float64Array
  failsDeveloping: Float64Array
  unitsSound: Float64Array
  unitsDeveloping: Float64Array
}

/** Moments in slots: fine at first, then each half as far again, until nothing is worth waiting for. */
export const MOMENTS = [1, 1.5, 2.25, 3.4, 5, 7.6, 11.4, 17, 26, 38, 58, 86]

/**
 * @param steps effective clock units until each moment, ascending
 */
export function leaveUntil(strands: Strands, steps: ArrayLike<number>): Leaving {
  const count = steps.length
  const fails = { sound: new Float64Array(count), developing: new Float64Array(count) }
  const units = { sound: new Float64Array(count), developing: new Float64Array(count) }
  let sound = 0
  let developing = 0
  for (let i = 0; i < strands.node.length; i++) {
    sound += strands.sound[i]!
    developing += strands.developing[i]!
    addUnits(fails.sound, units.sound, steps, strands.sound[i]!, (step) => failsFromSound(strands, i, step))
    addUnits(fails.developing, units.developing, steps, strands.developing[i]!, (step) =>
      failsFromDeveloping(strands, i, step),
    )
  }
  return {
    sound,
    developing,
    failsSound: fails.sound,
    failsDeveloping: fails.developing,
    unitsSound: units.sound,
    unitsDeveloping: units.developing,
  }
}

/** Adds one strand's failing mass and its expected units, ∫ survival, by Simpson's rule between moments. */
function addUnits(
  fails: Float64Array,
  units: Float64Array,
  steps: ArrayLike<number>,
  mass: number,
  failing: (step: number) => number,
): void {
  if (mass === 0) return
  let from = 0
  let alive = 1
  let integral = 0
  for (let m = 0; m < steps.length; m++) {
    const to = steps[m]!
    const fail = failing(to)
    const middle = 1 - failing((from + to) / 2)
    integral += ((alive + 4 * middle + 1 - fail) / 6) * (to - from)
    fails[m] = fails[m]! + mass * fail
    units[m] = units[m]! + mass * integral
    alive = 1 - fail
    from = to
  }
}

/**
 * L at moment `m` less C_p: what leaving it until then costs (negative: saves).
 *
 * @param lambda factor on the odds of "going": 1 as believed now, else after a look's outcome
 */
export function lossOfLeaving(leaving: Leaving, m: number, cost: JobCost, rate: number, lambda = 1): number {
  // What is certain stays so at any odds.
  const odds = leaving.sound > 0 ? lambda : 1
  const total = leaving.sound + odds * leaving.developing
  const fails = (leaving.failsSound[m]! + odds * leaving.failsDeveloping[m]!) / total
  const units = (leaving.unitsSound[m]! + odds * leaving.unitsDeveloping[m]!) / total
  return fails * (cost.unplanned - cost.planned) - rate * units
}

const BAND = [0.1, 0.9] as const

/** An 80 % band of money. */
export type MoneyBand = { low: number; high: number }

/**
 * The band of `L(step) − C_p`: 10th and 90th percentile, over the nodes, of what leaving it costs if that node's life is
 * the true one; widened where needed to hold the mean.
 *
 * @param step effective clock units
 */
export function bandOfLeaving(strands: Strands, step: number, cost: JobCost, rate: number): MoneyBand {
  const { count } = strands.tables
  const [mass, fails, units] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  for (let i = 0; i < strands.node.length; i++) {
    const node = strands.node[i]!
    const [failsHere, unitsHere] = [fails.subarray(node, node + 1), units.subarray(node, node + 1)]
    mass[node] = mass[node]! + strands.sound[i]! + strands.developing[i]!
    addUnits(failsHere, unitsHere, [step], strands.sound[i]!, (by) => failsFromSound(strands, i, by))
    addUnits(failsHere, unitsHere, [step], strands.developing[i]!, (by) =>
      failsFromDeveloping(strands, i, by),
    )
  }
  const whole = fails.map((fail, node) => fail * (cost.unplanned - cost.planned) - rate * units[node]!)
  const loss = whole.map((each, node) => (mass[node]! > 0 ? each / mass[node]! : 0))
  const mean = sum(whole) / sum(mass)
  const [low, high] = weightedQuantiles(loss, mass, BAND)
  return { low: Math.min(low!, mean), high: Math.max(high!, mean) }
}

/** K(slot) less C_p: the least cost of leaving it for at least one slot. */
export function leastLoss(leaving: Leaving, cost: JobCost, rate: number, lambda = 1): number {
  let least = Number.POSITIVE_INFINITY
  for (let m = 0; m < leaving.failsSound.length; m++)
    least = Math.min(least, lossOfLeaving(leaving, m, cost, rate, lambda))
  return least
}

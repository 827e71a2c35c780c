/**
 * What it costs to leave a component until later.
 *
 * `L(τ) = C_p + P(fail ≤ τ)·(C_f − C_p) − g*·E[clock units to min(failure, τ)]`: the expected cost of leaving
 * it until τ, against a long-run rate; `K(t) = min over τ ≥ t of L(τ)`; the cost of waiting one slot is
 * `L(slot) − C_p`. Kept apart for "sound" and "going", so that a look's outcome re-weighs the curve at once.
 */
import { failsFromSound } from '@/lib/model/fails-from-sound'
import { failsFromDeveloping, weightedQuantiles } from '@/lib/model/outlook'
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
  const leaving: Leaving = {
    sound: 0,
    developing: 0,
    failsSound: new Float64Array(count),
    failsDeveloping: new Float64Array(count),
    unitsSound: new Float64Array(count),
    unitsDeveloping: new Float64Array(count),
  }
  ahead.begin(strands)
  const { node, sound, developing, tables } = strands
  for (let i = 0; i < node.length; i++) {
    leaving.sound += sound[i]!
    leaving.developing += developing[i]!
  }
  for (let m = 0; m < count; m++) {
    ahead.goOnTo(steps[m]!)
    for (let i = 0; i < node.length; i++) {
      const pf = tables.rateOf[node[i]!]!
      leaving.failsSound[m]! += sound[i]! * ahead.sound.fails[i]!
      leaving.unitsSound[m]! += sound[i]! * ahead.sound.units[i]!
      leaving.failsDeveloping[m]! += developing[i]! * ahead.developing.fails[pf]!
      leaving.unitsDeveloping[m]! += developing[i]! * ahead.developing.units[pf]!
    }
  }
  return leaving
}

/** P(failed) by some moment, and the expected units until then or failure. */
interface Course {
  fails: Float64Array
  units: Float64Array
}

const courseOf = (size: number): Course => ({ fails: new Float64Array(size), units: new Float64Array(size) })

/**
 * From moment to moment: each strand as if it were sound now, each δ for what is going now. ∫ survival by Simpson's rule.
 * One life after the other, in the same room.
 */
class StrandsAhead {
  sound: Course = courseOf(0)
  /** By the tables' distinct 1/δ. */
  developing: Course = courseOf(0)
  private strands!: Strands
  private at = 0
  private middle = new Float64Array(0)
  private end = new Float64Array(0)

  begin(strands: Strands): void {
    const [size, warnings] = [strands.node.length, strands.tables.rates.length]
    this.strands = strands
    this.at = 0
    if (this.middle.length < size) {
      this.sound = courseOf(size)
      this.middle = new Float64Array(size)
      this.end = new Float64Array(size)
    }
    if (this.developing.fails.length < warnings) this.developing = courseOf(warnings)
    for (const { fails, units } of [this.sound, this.developing]) {
      fails.fill(0)
      units.fill(0)
    }
  }

  goOnTo(to: number): void {
    const { strands, at, sound, developing, middle, end } = this
    const { tables, node } = strands
    const half = (at + to) / 2
    failsFromSound(strands, half, middle)
    failsFromSound(strands, to, end)
    goOn(sound, node.length, to - at, middle, end)
    const [atHalf, atEnd] = [failsFromDeveloping(tables, half), failsFromDeveloping(tables, to)]
    goOn(developing, tables.rates.length, to - at, atHalf, atEnd)
    this.at = to
  }
}

function goOn(
  { fails, units }: Course,
  many: number,
  width: number,
  middle: Float64Array,
  end: Float64Array,
): void {
  for (let i = 0; i < many; i++) {
    units[i] = units[i]! + ((1 - fails[i]! + 4 * (1 - middle[i]!) + 1 - end[i]!) / 6) * width
    fails[i] = end[i]!
  }
}

const ahead = new StrandsAhead()

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
  ahead.begin(strands)
  ahead.goOnTo(step)
  const { rateOf } = strands.tables
  for (let i = 0; i < strands.node.length; i++) {
    const node = strands.node[i]!
    const pf = rateOf[node]!
    const [s, d] = [strands.sound[i]!, strands.developing[i]!]
    mass[node] = mass[node]! + s + d
    fails[node] = fails[node]! + s * ahead.sound.fails[i]! + d * ahead.developing.fails[pf]!
    units[node] = units[node]! + s * ahead.sound.units[i]! + d * ahead.developing.units[pf]!
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

/** A vehicle's years ahead, lived through by chance as it is believed to be: what reckoned amounts are held against. */
import type { AdviceGround } from '@/lib/decisions/advice'
import { jobCost } from '@/lib/decisions/costs'
import { renewalAge } from '@/lib/decisions/intervals'
import { shortestFirst } from '@/lib/decisions/supposing'
import type { LifeTables } from '@/lib/model/life-table'
import { usageNodes } from '@/lib/scoring/ahead'
import type { Random } from '../simulation/random'

/**
 * What one vehicle costs and how much of it fails, lived through: a place among the possible lives, from the shortest
 * to the longest, for each weak point, then each position by itself.
 *
 * @param placeOf which place is true of a weak point, from 0 to 1; by chance where it is left out
 */
export function liveOnce(
  { vehicle, prices, clock }: AdviceGround,
  days: number,
  random: Random,
  placeOf?: (weakPoint: string) => number,
): { cost: number; failures: number } {
  const { belief } = vehicle
  const pick = (weights: ArrayLike<number>) => {
    let left = random.uniform() * Array.from(weights).reduce((a, b) => a + b, 0)
    for (let i = 0; i < weights.length; i++) {
      left -= weights[i]!
      if (left <= 0) return i
    }
    return weights.length - 1
  }
  const usage = usageNodes(clock, { days })
  const steps = belief.ageingAhead(usage[pick(usage.map(({ weight }) => weight))]!.ahead)
  const exponential = () => -Math.log(1 - random.uniform())
  const known = new Map<string, number>()
  let [cost, failures] = [0, 0]
  belief.beliefs.forEach((state, c) => {
    const { weakPoint } = state.component
    const { planned, unplanned } = jobCost(weakPoint, prices)
    const { tables, node, age, sound, developing } = state.currentNodes()
    const mass = Array.from(node, (_, i) => sound[i]! + developing[i]!)
    const place = known.get(weakPoint.key) ?? placeOf?.(weakPoint.key) ?? random.uniform()
    known.set(weakPoint.key, place)
    const chosen = nodeAt(place, tables, byNode(tables, node, mass))
    const strand = pick(mass.map((each, i) => (node[i] === chosen ? each : 0)))
    const life = (k: number, from: number, isGoing: boolean) => {
      const warning = exponential() / tables.failRate[k]!
      if (isGoing) return warning
      const scale = Math.exp(tables.logScale[k]!)
      const onset = scale * ((from / scale) ** tables.shape[k]! + exponential()) ** (1 / tables.shape[k]!)
      return onset - from + warning
    }
    const every = weakPoint.renewEvery ?? Number.POSITIVE_INFINITY
    let limit = Math.max(every - renewalAge(belief, c), 0)
    let lasts = life(chosen, age[strand]!, random.uniform() * mass[strand]! < developing[strand]!)
    let now = 0
    for (;;) {
      now += Math.min(lasts, limit)
      if (now > steps[c]!) break
      cost += lasts < limit ? unplanned : planned
      if (lasts < limit) failures++
      limit = every
      const pi = tables.failRate[chosen]! < Infinity ? 1 - weakPoint.success : 0
      lasts = life(chosen, 0, random.uniform() < pi)
    }
  })
  return { cost, failures }
}

function byNode({ count }: LifeTables, node: Int32Array, mass: readonly number[]): number[] {
  const weights = new Array<number>(count).fill(0)
  node.forEach((k, i) => {
    weights[k] = weights[k]! + mass[i]!
  })
  return weights
}

/** The node of a place among those that weigh something, the shortest-lived first. */
function nodeAt(place: number, tables: LifeTables, weights: readonly number[]): number {
  const possible = shortestFirst(tables).filter((k) => weights[k]! > 0)
  let left = place * weights.reduce((a, b) => a + b, 0)
  for (const k of possible) {
    left -= weights[k]!
    if (left <= 0) return k
  }
  return possible.at(-1)!
}

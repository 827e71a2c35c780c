/** What becomes of new parts that are replaced when their signs and their score say so: one cycle, by node. */
import type { LifeTables } from '@/lib/model/life-table'
import {
  advance,
  aliveAfter,
  applyTransition,
  makeTransition,
  normalise,
  type Strands,
} from '@/lib/model/strands'
import { renewedLife } from '@/lib/scoring/life-start'
import type { PolicyGround, PolicyUse } from '../policy-ground'
import { leaveUntil, lossOfLeaving } from '../waiting'

/** What a cycle brings, by node. */
export interface Cycles {
  failures: Float64Array
  replaced: Float64Array
  /** Effective units. */
  length: Float64Array
}

export const roomFor = ({ count }: LifeTables): Cycles => ({
  failures: new Float64Array(count),
  replaced: new Float64Array(count),
  length: new Float64Array(count),
})

const DAYS_PER_YEAR = 365.25
/** Cycles are followed until so few are left, and no longer than so many slots: the rest counts as replaced then. */
const FEW = 1e-5
const MOST_SLOTS = 4000

/** What a part ages by in one slot. */
export const slotOf = ({ ageing, parts, unitsPerYear }: PolicyUse, slotDays: number): number =>
  parts > 0 ? (ageing * unitsPerYear * slotDays) / DAYS_PER_YEAR / parts : 0

/**
 * Slot by slot: what is believed of a part of which nothing was seen moves on at the central life; the part is replaced
 * when leaving it one more slot would cost more than it saves, at once for all of this age, or for those that show a sign
 * where the sign tells enough. A sign that does not tell enough is forgotten.
 *
 * @param rate g*, money an effective unit
 */
export function signsCycles(ground: PolicyGround, use: PolicyUse, rate: number): Cycles {
  const { nodes, central, cost, success, shown, slotDays } = ground
  const slot = slotOf(use, slotDays)
  const cycles = roomFor(nodes)
  if (!(slot > 0)) return { ...cycles, length: cycles.length.fill(Number.POSITIVE_INFINITY) }
  const truth = renewedLife(nodes, success)
  const belief = renewedLife(central, success)
  const [ofTruth, ofBelief] = [makeTransition(truth.node.length), makeTransition(belief.node.length)]
  for (let n = 0; n < MOST_SLOTS; n++) {
    const leaving = leaveUntil(belief, [slot])
    if (lossOfLeaving(leaving, 0, cost, rate) > 0) break
    liveThroughSlot(truth, ofTruth, slot, cycles)
    advance(belief, slot, ofBelief)
    if (!(aliveAfter(ofBelief, belief.sound, belief.developing) > 0)) break
    applyTransition(ofBelief, belief.sound, belief.developing)
    normalise(belief.sound, belief.developing)
    if (shown.developing > shown.sound && tellsEnough(ground, belief, slot, rate)) {
      replaceShown(truth, shown, cycles)
      for (let i = 0; i < belief.developing.length; i++) {
        belief.developing[i] = belief.developing[i]! * (1 - shown.developing)
        belief.sound[i] = belief.sound[i]! * (1 - shown.sound)
      }
      normalise(belief.sound, belief.developing)
    }
    if (truth.sound.reduce((a, s, i) => a + s + truth.developing[i]!, 0) < FEW) break
  }
  replaceShown(truth, { developing: 1, sound: 1 }, cycles)
  return perPart(cycles, nodes.weight)
}

/** Whether a part that shows its sign now is better replaced than left one slot. */
function tellsEnough({ shown, cost }: PolicyGround, belief: Strands, slot: number, rate: number): boolean {
  const odds = shown.sound > 0 ? shown.developing / shown.sound : 1e12
  return lossOfLeaving(leaveUntil(belief, [slot]), 0, cost, rate, odds) > 0
}

function liveThroughSlot(
  truth: Strands,
  transition: ReturnType<typeof makeTransition>,
  slot: number,
  { failures, length }: Cycles,
): void {
  const before = truth.sound.map((s, i) => s + truth.developing[i]!)
  advance(truth, slot, transition)
  applyTransition(transition, truth.sound, truth.developing)
  for (let i = 0; i < before.length; i++) {
    const k = truth.node[i]!
    const after = truth.sound[i]! + truth.developing[i]!
    failures[k] = failures[k]! + before[i]! - after
    length[k] = length[k]! + (slot * (before[i]! + after)) / 2
  }
}

function replaceShown(truth: Strands, shown: PolicyGround['shown'], { replaced }: Cycles): void {
  for (let i = 0; i < truth.node.length; i++) {
    const k = truth.node[i]!
    replaced[k] = replaced[k]! + truth.sound[i]! * shown.sound + truth.developing[i]! * shown.developing
    truth.sound[i] = truth.sound[i]! * (1 - shown.sound)
    truth.developing[i] = truth.developing[i]! * (1 - shown.developing)
  }
}

/** Masses are those of the nodes: for one part at each node they are divided by what it weighs. */
function perPart(cycles: Cycles, weight: Float64Array): Cycles {
  const divided = (values: Float64Array) => values.map((each, k) => (weight[k]! > 0 ? each / weight[k]! : 0))
  return {
    failures: divided(cycles.failures),
    replaced: divided(cycles.replaced),
    length: divided(cycles.length),
  }
}

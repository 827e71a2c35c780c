/** Stated intervals: how far a part has run since it was renewed, and the cost rate that its interval implies. */

import type { LifeTables } from '@/lib/model/life-table'
import { failChance } from '@/lib/model/outlook'
import { advance, applyTransition, makeTransition, normalise } from '@/lib/model/strands'
import { originalLife } from '@/lib/scoring/life-start'
import type { VehicleBelief } from '@/lib/scoring/vehicle-belief'

/**
 * Clock units since the last lasting renewal. Where it is not on record, the likeliest age of the part (the
 * library says that earlier owners kept the interval).
 */
export function renewalAge(belief: VehicleBelief, component: number): number {
  const state = belief.beliefs[component]!
  if (state.renewedAt !== null) return belief.clockOf(component) - state.renewedAt
  const { age, sound, developing } = state.central
  let likeliest = 0
  for (let i = 1; i < age.length; i++) {
    if (sound[i]! + developing[i]! > sound[likeliest]! + developing[likeliest]!) likeliest = i
  }
  return age[likeliest]! / state.duty
}

/** Shares of the interval at which the hazard is asked. */
const ASKED_AT = [0.3, 0.5, 0.7, 0.85, 1]
const SHORT = 0.01

const known = new WeakMap<LifeTables, Map<number, number>>()

/**
 * The largest hazard (failures per effective unit) of a part up to its stated interval, as the nodes have it:
 * whoever states an interval holds that until then waiting is worth more than this hazard costs.
 *
 * @param interval effective clock units
 */
export function statedIntervalRate(life: LifeTables, interval: number): number {
  const ofLife = known.get(life) ?? new Map<number, number>()
  known.set(life, ofLife)
  const found = ofLife.get(interval) ?? largestHazard(life, interval)
  ofLife.set(interval, found)
  return found
}

function largestHazard(life: LifeTables, interval: number): number {
  const strands = originalLife(life)
  const transition = makeTransition(strands.node.length)
  let largest = 0
  let age = 0
  for (const share of ASKED_AT) {
    advance(strands, share * interval - age, transition)
    age = share * interval
    applyTransition(transition, strands.sound, strands.developing)
    if (!normalise(strands.sound, strands.developing)) break
    largest = Math.max(largest, failChance(strands, SHORT * interval) / (SHORT * interval))
  }
  return largest
}

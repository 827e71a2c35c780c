/** From belief to numbers: chance with its band, belief that it is going, distance left. */
import { failChanceByNode, medianRemaining, weightedQuantiles } from '@/lib/model/outlook'
import { sum } from '@/lib/model/strands'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import { type Horizon, usageNodes } from './ahead'
import type { ComponentBelief } from './component-belief'
import type { ClockReading, VehicleBelief } from './vehicle-belief'

export interface ComponentChance {
  pFail: number
  /** 80 % band. */
  pLow: number
  pHigh: number
}

/** A vehicle's chances within one horizon: one a component, and that at least one of them fails. */
export interface HorizonChances {
  horizon: Horizon
  components: ComponentChance[]
  combined: number
}

const BAND = [0.1, 0.9] as const
const CERTAIN: ComponentChance = { pFail: 1, pLow: 1, pHigh: 1 }

/**
 * Chances within a horizon if nothing is done.
 *
 * A component's chance is the mean over its parameter nodes and the usage nodes, its band their 10th and 90th
 * percentile, widened where needed to hold the chance. Combined: independent components at each usage node,
 * which they share.
 */
export function chancesWithin(belief: VehicleBelief, clock: VehicleClock, horizon: Horizon): HorizonChances {
  const ahead = lookAhead(belief, clock, horizon)
  const spared = ahead.usage.map(() => 1)
  const components = belief.beliefs.map((component, c) => {
    if (component.failed) {
      spared.fill(0)
      return CERTAIN
    }
    const { mass, chance, byUsage, pFail } = failingWithin(component, c, ahead)
    byUsage.forEach((here, u) => {
      spared[u] = spared[u]! * (1 - here)
    })
    const [low, high] = weightedQuantiles(chance, mass, BAND)
    return { pFail, pLow: Math.min(low!, pFail), pHigh: Math.max(high!, pFail) }
  })
  const combined = 1 - ahead.usage.reduce((a, node, u) => a + node.weight * spared[u]!, 0)
  return { horizon, components, combined: Math.max(combined, 0) }
}

/** The chances alone, without their bands. */
export function plainChancesWithin(belief: VehicleBelief, clock: VehicleClock, horizon: Horizon): number[] {
  const ahead = lookAhead(belief, clock, horizon)
  return belief.beliefs.map((component, c) =>
    component.failed ? 1 : failingWithin(component, c, ahead).pFail,
  )
}

/** How the vehicle may be used within the horizon, and by how much each component then ages. */
type Ahead = { usage: ReturnType<typeof usageNodes>; steps: ReturnType<VehicleBelief['ageingAhead']>[] }

function lookAhead(belief: VehicleBelief, clock: VehicleClock, horizon: Horizon): Ahead {
  const usage = usageNodes(clock, horizon)
  return { usage, steps: belief.ageingAheads(usage.map(({ ahead }) => ahead)) }
}

/** Room for one component's masses and chances, which the next one takes over. */
let room = { mass: new Float64Array(0), chance: new Float64Array(0) }

function roomFor(size: number): typeof room {
  if (room.mass.length !== size) room = { mass: new Float64Array(size), chance: new Float64Array(size) }
  room.mass.fill(0)
  room.chance.fill(0)
  return room
}

/**
 * One component's chance: by usage node and parameter node with their masses, by usage node, and over all. The first two
 * hold until the next component is asked for.
 */
function failingWithin(component: ComponentBelief, c: number, { usage, steps }: Ahead) {
  const strands = component.currentNodes()
  const { count } = strands.tables
  const { mass, chance } = roomFor(count * usage.length)
  let pFail = 0
  const byUsage = usage.map((node, u) => {
    const from = u * count
    failChanceByNode(strands, steps[u]![c]!, mass, chance, from)
    let fails = 0
    for (let i = from; i < from + count; i++) fails += chance[i]!
    const here = Math.min(fails, 1)
    pFail += node.weight * here
    for (let i = from; i < from + count; i++) {
      chance[i] = mass[i]! > 0 ? chance[i]! / mass[i]! : 0
      mass[i] = mass[i]! * node.weight
    }
    return here
  })
  return { mass, chance, byUsage, pFail }
}

/** P(developing) over the nodes; 1 where it has failed. */
export function chanceDeveloping(belief: VehicleBelief, component: number): number {
  const { failed } = belief.beliefs[component]!
  return failed ? 1 : Math.min(sum(belief.beliefs[component]!.currentNodes().developing), 1)
}

/**
 * Median distance to failure at today's rate of use, km; null for a vehicle that stands (or a part that this
 * one may not have).
 */
export function remainingKm(belief: VehicleBelief, clock: VehicleClock, component: number): number | null {
  const { failed } = belief.beliefs[component]!
  if (clock.standing) return null
  if (failed) return 0
  const { central } = belief.beliefs[component]!
  // The central life is answered at once, and lies near.
  const near = medianRemaining(central)
  const nodes = belief.beliefs[component]!.currentNodes()
  const step = Number.isFinite(near) ? medianRemaining(nodes, near) : medianRemaining(nodes)
  const { km, hours } = clock.ahead(1)
  if (!(km > 0) || !Number.isFinite(step)) return null
  const days = daysOfAgeing(belief, component, step, { distance: km, hours, time: 1 })
  return Number.isFinite(days) ? days * km : null
}

const MOST_TRIES = 20
const NEAR_ENOUGH = 1e-4

/** Days of use in which a component ages by `step`; a defect upstream changes its pace on the way. */
function daysOfAgeing(belief: VehicleBelief, component: number, step: number, perDay: ClockReading): number {
  const { weakPoint } = belief.plan.components[component]!
  let days = step / (belief.beliefs[component]!.duty * perDay[weakPoint.clock])
  for (let i = 0; i < MOST_TRIES && belief.exposures.hasUpstream(component); i++) {
    const ahead = { distance: perDay.distance * days, hours: perDay.hours * days, time: days }
    const ratio = step / belief.ageingAhead(ahead)[component]!
    days *= ratio
    if (Math.abs(ratio - 1) < NEAR_ENOUGH) break
  }
  return days
}

/**
 * The same vehicle, supposing that something is known of its parts which is not: how long they last, whether they are
 * going, that they were replaced. What decisions are made on is copied, and nothing of the original changes.
 */
import type { LifeTables } from '@/lib/model/life-table'
import { copyStrands, type Strands } from '@/lib/model/strands'
import type { ComponentBelief } from '@/lib/scoring/component-belief'
import { renewedLife } from '@/lib/scoring/life-start'
import type { AdviceGround } from './advice'

/** Lives are told apart in so many kinds, from the shortest to the longest, each as likely as the others. */
export const LIFE_SHARES = 5

/**
 * Every part lasts as long as the `share`-th fifth of the lives that are thought possible of it. The mean over all
 * fifths is the vehicle itself. The middles of the first and the last are the 10th and the 90th percentile.
 *
 * @param share 0 (shortest) to `LIFE_SHARES` − 1
 */
export function supposingLife(ground: AdviceGround, share: number): AdviceGround {
  const cut = new Map<LifeTables, LifeTables>() // positions that share their tables go on sharing them
  return withParts(ground, (state) => {
    const nodes = state.currentNodes()
    const { tables } = nodes
    const within = cut.get(tables) ?? { ...tables, weight: shareOfNodes(tables, tables.weight, share) }
    cut.set(tables, within)
    if (state.failed) return withNodes(state, { ...nodes, tables: within })
    const own = nodeWeights(nodes)
    return withNodes(state, { ...weighed(nodes, own, shareOfNodes(tables, own, share)), tables: within })
  })
}

function nodeWeights({ tables, node, sound, developing }: Strands): Float64Array {
  const weight = new Float64Array(tables.count)
  for (let i = 0; i < node.length; i++) weight[node[i]!] = weight[node[i]!]! + sound[i]! + developing[i]!
  return weight
}

/** What the nodes weigh where only the `share`-th fifth of all mass is left, as a whole. */
function shareOfNodes(tables: LifeTables, weight: Float64Array, share: number): Float64Array {
  const total = weight.reduce((a, b) => a + b, 0)
  const [from, to] = [(share / LIFE_SHARES) * total, ((share + 1) / LIFE_SHARES) * total]
  const left = new Float64Array(tables.count)
  let before = 0
  for (const k of shortestFirst(tables)) {
    const after = before + weight[k]!
    left[k] = (LIFE_SHARES * Math.max(Math.min(after, to) - Math.max(before, from), 0)) / total
    before = after
  }
  return left
}

const orders = new WeakMap<LifeTables, number[]>()

/** Nodes by the scale of their life; among equals those with the shorter warning first. */
export function shortestFirst(tables: LifeTables): number[] {
  const { logScale, failRate } = tables
  const known =
    orders.get(tables) ??
    Array.from({ length: tables.count }, (_, k) => k).sort(
      (a, b) => logScale[a]! - logScale[b]! || failRate[b]! - failRate[a]! || a - b,
    )
  orders.set(tables, known)
  return known
}

/** Every part that is not known to have failed is going, or good, as `stateOf` says; null leaves it as believed. */
export function supposingState(
  ground: AdviceGround,
  stateOf: (component: number) => 'going' | 'good' | null,
): AdviceGround {
  return withParts(ground, (state, c) => {
    const wanted = stateOf(c)
    if (wanted === null || state.failed) return state
    const odds = wanted === 'going' ? Number.POSITIVE_INFINITY : 0
    return withOdds(state, odds)
  })
}

/** The odds of going are multiplied, as a look does it. @param odds by component */
export const supposingOdds = (ground: AdviceGround, odds: ArrayLike<number>): AdviceGround =>
  withParts(ground, (state, c) => (state.failed || odds[c] === 1 ? state : withOdds(state, odds[c]!)))

function withOdds(state: ComponentBelief, odds: number): ComponentBelief {
  const nodes = copyStrands(state.currentNodes())
  const [keepsSound, keepsDeveloping] = odds === Number.POSITIVE_INFINITY ? [0, 1] : [1, odds]
  let total = 0
  for (let i = 0; i < nodes.node.length; i++) {
    nodes.sound[i] = nodes.sound[i]! * keepsSound
    nodes.developing[i] = nodes.developing[i]! * keepsDeveloping
    total += nodes.sound[i]! + nodes.developing[i]!
  }
  // What cannot be is not supposed: a part without warning is never going.
  if (!(total > 0)) return state
  nodes.sound.forEach((_, i) => {
    nodes.sound[i] = nodes.sound[i]! / total
    nodes.developing[i] = nodes.developing[i]! / total
  })
  return withNodes(state, nodes)
}

/** These parts are replaced today, and as good as a replaced part of the library is. */
export function supposingRenewed(ground: AdviceGround, renewed: ReadonlySet<number>): AdviceGround {
  const { belief } = ground.vehicle
  return withParts(ground, (state, c) => {
    if (!renewed.has(c)) return state
    const { weakPoint } = state.component
    const { nodes, central } = ground.parameters.of(weakPoint, null, belief.plan.variant)
    const clock = belief.clockOf(c)
    const beginning = { how: 'renewed' as const, day: ground.clock.asOf, clock, revision: null }
    const life = renewedLife(nodes, weakPoint.success)
    return Object.create(state, {
      currentNodes: { value: () => life },
      central: { value: renewedLife(central, weakPoint.success) },
      failed: { value: false },
      renewedAt: { value: clock },
      beginning: { value: beginning },
    })
  })
}

function withParts(
  ground: AdviceGround,
  change: (state: ComponentBelief, component: number) => ComponentBelief,
): AdviceGround {
  const { belief } = ground.vehicle
  const own = Object.create(belief, { beliefs: { value: belief.beliefs.map(change) } })
  return { ...ground, vehicle: { ...ground.vehicle, belief: own } }
}

const withNodes = (state: ComponentBelief, nodes: Strands): ComponentBelief =>
  Object.create(state, { currentNodes: { value: () => nodes } })

/** Each node's state as it was, and its weight another. */
function weighed(all: Strands, before: Float64Array, after: Float64Array): Strands {
  const factor = before.map((weight, k) => (weight > 0 ? after[k]! / weight : 0))
  return {
    ...all,
    sound: all.sound.map((mass, i) => mass * factor[all.node[i]!]!),
    developing: all.developing.map((mass, i) => mass * factor[all.node[i]!]!),
  }
}

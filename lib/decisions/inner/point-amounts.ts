/** What all positions of one weak point may cost together over a stretch of use. */
import type { Amounts } from '@/lib/model/lattice'
import type { LifeCourse } from '@/lib/model/life-course'
import type { LifeTables } from '@/lib/model/life-table'
import {
  type CountsFromNew,
  countsAhead,
  countsTogether,
  type EventCounts,
  withoutRare,
} from '@/lib/model/renewals-ahead'
import type { AdviceGround } from '../advice'
import type { JobCost } from '../costs'
import { renewalAge } from '../intervals'
import { shortestFirst } from '../supposing'
import { mixShares, onCommonLives } from './common-lives'
import { courseOf } from './courses'
import { type PartsAfter, partsAfter } from './parts-after'

export interface PointAmounts extends Amounts {
  mean: number
  /** Of the mean, what is due to positions of unknown age. */
  meanOfUnknown: number
}

/** The lightest nodes are left out that weigh no more than this together. */
const LIGHT = 1e-5
/** Events of less chance count as the most that are likelier. */
const RARE = 1e-10

/** How often the positions of a weak point that share their nodes fail and come due, node by node. */
export interface SharedCounts {
  tables: LifeTables
  /** What each node weighs: the mean over the positions. They sum to 1. */
  weight: Float64Array
  /** By node, all positions together; null for one that weighs next to nothing. */
  together: (EventCounts | null)[]
}

/**
 * Positions that share the tables of their nodes share what is not known of them, each by what its own history makes
 * likely (`common-lives.ts`); others (a part of another revision) are independent.
 *
 * @param components of one weak point
 * @param steps effective clock units of the stretch, by component
 */
export function pointAmounts(
  ground: AdviceGround,
  components: readonly number[],
  steps: Float64Array,
  cost: JobCost,
): PointAmounts {
  const { beliefs } = ground.vehicle.belief
  const { shared, ofUnknown } = pointCounts(ground, components, steps)
  const counts = shared.map(({ together, weight }) => mixOver(together, weight))
  const amounts = amountsOf(counts.reduce(countsTogether), cost)
  const unknown = components.filter((c) => beliefs[c]!.beginning.how === 'unknown')
  const meanOfUnknown = unknown.reduce((sum, c) => sum + meanOf(amountsOf(ofUnknown.get(c)!, cost)), 0)
  return { ...amounts, mean: meanOf(amounts), meanOfUnknown }
}

/** The same as counts, before they are mixed and have a price; of positions of unknown age also what each comes to. */
export function pointCounts(
  ground: AdviceGround,
  components: readonly number[],
  steps: Float64Array,
): { shared: SharedCounts[]; ofUnknown: Map<number, EventCounts> } {
  const { beliefs } = ground.vehicle.belief
  const byTables = new Map<LifeTables, number[]>()
  for (const c of components) {
    const { tables } = beliefs[c]!.currentNodes()
    byTables.set(tables, [...(byTables.get(tables) ?? []), c])
  }
  const ofUnknown = new Map<number, EventCounts>()
  const shared = [...byTables].map(([tables, positions]) => {
    const weights = positions.map((c) => withoutLight(nodeWeights(ground, c)))
    const weight = new Float64Array(tables.count)
    for (const each of weights) addTimes(weight, 1 / positions.length, each)
    const order = shortestFirst(tables)
    const byPosition = positions.map((c, i) => {
      const own = weights[i]!
      const counts = countsByNode(ground, c, steps[c]!, own)
      if (beliefs[c]!.beginning.how === 'unknown') ofUnknown.set(c, mixOver(counts, own))
      return onCommonLives(counts, { own, common: weight, order })
    })
    const together = Array.from(weight, (_, k) => {
      const each = byPosition.flatMap((counts) => counts[k] ?? [])
      return each.length === 0 ? null : each.reduce((a, b) => withoutRare(countsTogether(a, b), RARE))
    })
    return { tables, weight, together }
  })
  return { shared, ofUnknown }
}

/** They sum to 1; the lightest weigh nothing. */
function withoutLight(weight: Float64Array): Float64Array {
  let [total, limit] = [0, 0]
  for (const each of weight.slice().sort()) {
    total += each
    if (total > LIGHT) break
    limit = each
  }
  const kept = weight.map((each) => (each <= limit ? 0 : each))
  const sum = kept.reduce((a, b) => a + b, 0)
  return kept.map((each) => each / sum)
}

/** The counts of one position at every node that weighs something. */
function countsByNode(
  ground: AdviceGround,
  c: number,
  step: number,
  weight: Float64Array,
): (EventCounts | null)[] {
  const { belief } = ground.vehicle
  const state = belief.beliefs[c]!
  const { weakPoint } = state.component
  if (!(step > 0)) return Array.from(weight, (w) => (w > 0 ? soFar(state.failed) : null))
  const original = ground.parameters.of(weakPoint, null, belief.plan.variant).nodes
  const limit = (weakPoint.renewEvery ?? Number.POSITIVE_INFINITY) * state.duty
  const after = partsAfter({ original, success: weakPoint.success, limit }, step)
  const course = courseOf(ground, c)
  const dueAfter = Math.max(limit - renewalAge(belief, c) * state.duty, 0) / after.half
  const mixed = after.counts.length === weight.length ? null : mixLives(after, original)
  const curves = state.failed ? null : survivalAt(course, step, after.cells)
  return Array.from(weight, (w, k) => {
    if (!(w > 0)) return null
    const survives = curves && survivalOf(curves, k, Number.isFinite(limit) ? 1 : after.chance)
    const present = survives ? ({ failed: false, survives, dueAfter } as const) : ({ failed: true } as const)
    return withoutRare(countsAhead(present, mixed ?? after.counts[k]!, step / after.half), RARE)
  })
}

/**
 * Where it matters little when the present part fails, for few new ones would fail as well, fewer cells are enough: by
 * the chance that both do.
 */
const FEWER_CELLS: readonly (readonly [both: number, cells: number])[] = [
  [5e-4, 2],
  [1e-2, 4],
]

/** One node's P(not failed) at even moments. @param chance that a new part fails within the stretch */
function survivalOf(curves: readonly Float64Array[], k: number, chance: number): Float64Array {
  const most = curves.length - 1
  const both = (1 - curves[most]![k]!) * chance
  const cells = Math.min(FEWER_CELLS.find(([below]) => both < below)?.[1] ?? most, most)
  // The number of cells is even, and a multiple of four from four on: every so many of them are taken together.
  const every = most % cells === 0 ? most / cells : 1
  const survives = new Float64Array(most / every + 1)
  survives[0] = 1
  for (let m = 1; m < survives.length; m++) survives[m] = Math.min(curves[m * every]![k]!, survives[m - 1]!)
  return survives
}

/** Over no use at all: what has failed already is put right. */
const soFar = (failed: boolean): EventCounts =>
  failed
    ? { mostFailures: 1, mostDue: 0, chance: Float64Array.of(0, 1) }
    : { mostFailures: 0, mostDue: 0, chance: Float64Array.of(1) }

const survivalAt = (course: LifeCourse, step: number, cells: number): Float64Array[] =>
  Array.from({ length: cells + 1 }, (_, m) => course.aliveByNode((step * m) / cells))

function nodeWeights(ground: AdviceGround, c: number): Float64Array {
  const state = ground.vehicle.belief.beliefs[c]!
  return state.failed ? state.currentNodes().tables.weight : courseOf(ground, c).weight
}

/** A part whose nodes are not those of the original: what comes after it is the mean over the original's nodes. */
function mixLives({ counts }: PartsAfter, { weight }: LifeTables): CountsFromNew {
  const first = counts[0]!
  const { mostFailures, mostDue } = first.counts[0]!
  const mixed = first.counts.map((_, left) => {
    const chance = new Float64Array((mostFailures + 1) * (mostDue + 1))
    counts.forEach((each, k) => {
      addTimes(chance, weight[k]!, each.counts[left]!.chance)
    })
    return { mostFailures, mostDue, chance }
  })
  return { counts: mixed, dueEvery: first.dueEvery }
}

function addTimes(into: Float64Array, factor: number, chance: Float64Array): void {
  for (let i = 0; i < chance.length; i++) into[i] = into[i]! + factor * chance[i]!
}

/** One of several counts, each with what its node weighs; those without counts are left out. */
export const mixOver = (counts: readonly (EventCounts | null)[], weight: Float64Array): EventCounts =>
  mixShares(counts.flatMap((each, k) => (each ? { counts: each, weight: weight[k]! } : [])))

function amountsOf({ mostDue, chance }: EventCounts, { planned, unplanned }: JobCost): Amounts {
  const cost = Array.from(chance, (_, i) => {
    const failures = Math.floor(i / (mostDue + 1))
    return failures * unplanned + (i % (mostDue + 1)) * planned
  })
  return { cost, chance: Array.from(chance) }
}

const meanOf = ({ cost, chance }: Amounts): number =>
  cost.reduce((sum, each, i) => sum + each * chance[i]!, 0)

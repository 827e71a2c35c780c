/** What all positions of one weak point may cost together over a stretch of use. */
import type { Amounts } from '@/lib/model/lattice'
import type { LifeCourse } from '@/lib/model/life-course'
import type { LifeTables } from '@/lib/model/life-table'
import {
  type CountsFromNew,
  countsAhead,
  countsTogether,
  type EventCounts,
  type StretchAhead,
  stretchAhead,
  withAfterFailure,
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
    return { tables, weight, together: atEach(weight, (k) => togetherAt(byPosition, k)) }
  })
  return { shared, ofUnknown }
}

/** The counts at every node that weighs something, null at the others. */
function atEach(
  weight: Float64Array,
  countsAt: (node: number) => EventCounts | null,
): (EventCounts | null)[] {
  const counts: (EventCounts | null)[] = []
  for (let k = 0; k < weight.length; k++) counts.push(weight[k]! > 0 ? countsAt(k) : null)
  return counts
}

/** All positions at one node; null where it weighs next to nothing. */
function togetherAt(byPosition: readonly (EventCounts | null)[][], k: number): EventCounts | null {
  let all: EventCounts | null = null
  for (const counts of byPosition) {
    const one = counts[k]
    if (one) all = all ? withoutRare(countsTogether(all, one), RARE) : one
  }
  return all
}

/** They sum to 1; the lightest weigh nothing. */
function withoutLight(weight: Float64Array): Float64Array {
  let [total, limit] = [0, 0]
  for (const each of weight.filter((one) => one <= LIGHT).sort()) {
    total += each
    if (total > LIGHT) break
    limit = each
  }
  const kept = new Float64Array(weight.length)
  let sum = 0
  for (let k = 0; k < kept.length; k++) {
    if (weight[k]! > limit) kept[k] = weight[k]!
    sum += kept[k]!
  }
  for (let k = 0; k < kept.length; k++) kept[k] = kept[k]! / sum
  return kept
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
  if (!(step > 0)) return atEach(weight, () => soFar(state.failed))
  const original = ground.parameters.of(weakPoint, null, belief.plan.variant).nodes
  const limit = (weakPoint.renewEvery ?? Number.POSITIVE_INFINITY) * state.duty
  const after = partsAfter({ original, success: weakPoint.success, limit }, step)
  const mixed = after.counts.length === weight.length ? null : mixLives(after, original)
  const fromNew = (k: number) => mixed ?? after.counts[k]!
  const period = step / after.half
  if (state.failed)
    return atEach(weight, (k) => withoutRare(countsAhead({ failed: true }, fromNew(k), period), RARE))
  const dueAfter = Math.max(limit - renewalAge(belief, c) * state.duty, 0) / after.half
  const curves = new SurvivalCurves(courseOf(ground, c), step, after.cells)
  const stretches = new Map<number, StretchAhead>()
  return atEach(weight, (k) => {
    const survives = curves.of(k, Number.isFinite(limit) ? 1 : after.chance)
    const cells = survives.length - 1
    const stretch = stretches.get(cells) ?? stretchAhead(fromNew(k), { cells, dueAfter, period })
    stretches.set(cells, stretch)
    return withoutRare(stretch(survives, fromNew(k)), RARE)
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

/** P(not failed) at even moments of a stretch, node by node, in as many cells as the node needs. */
class SurvivalCurves {
  /** By moment of the finest cells, of all nodes; read off where some node needs it. */
  private readonly at: Float64Array[] = []
  private readonly values: Float64Array
  /** By number of cells, for one node at a time. */
  private readonly room = new Map<number, Float64Array>()

  constructor(
    private readonly course: LifeCourse,
    private readonly step: number,
    private readonly most: number,
  ) {
    this.values = new Float64Array((most + 1) * course.weight.length)
  }

  /** @param chance that a new part fails within the stretch @returns to be read before the next is asked for */
  of(k: number, chance: number): Float64Array {
    const { most } = this
    const both = (1 - this.moment(most)[k]!) * chance
    const fewer = FEWER_CELLS.find(([below]) => both < below)?.[1] ?? most
    // The number of cells is even, and a multiple of four from four on: every so many of them are taken together.
    const every = fewer < most && most % fewer === 0 ? most / fewer : 1
    const survives = this.room.get(most / every) ?? new Float64Array(most / every + 1)
    this.room.set(most / every, survives)
    survives[0] = 1
    for (let m = 1; m < survives.length; m++)
      survives[m] = Math.min(this.moment(m * every)[k]!, survives[m - 1]!)
    return survives
  }

  private moment(m: number): Float64Array {
    const { course, step, most, values, at } = this
    const count = course.weight.length
    at[m] ??= course.aliveByNode((step * m) / most, values.subarray(m * count, (m + 1) * count))
    return at[m]
  }
}

/** Over no use at all: what has failed already is put right. */
const soFar = (failed: boolean): EventCounts =>
  failed
    ? { mostFailures: 1, mostDue: 0, chance: Float64Array.of(0, 1) }
    : { mostFailures: 0, mostDue: 0, chance: Float64Array.of(1) }

function nodeWeights(ground: AdviceGround, c: number): Float64Array {
  const state = ground.vehicle.belief.beliefs[c]!
  return state.failed ? state.currentNodes().tables.weight : courseOf(ground, c).weight
}

/** A part whose nodes are not those of the original: what comes after it is the mean over the original's nodes. */
function mixLives({ counts }: PartsAfter, { weight }: LifeTables): CountsFromNew {
  const first = counts[0]!
  const { mostDue } = first.counts[0]!
  const mostFailures = Math.max(...counts.map((each) => each.counts[0]!.mostFailures))
  const mixed = first.counts.map((_, left) => {
    const chance = new Float64Array((mostFailures + 1) * (mostDue + 1))
    counts.forEach((each, k) => {
      addTimes(chance, weight[k]!, each.counts[left]!.chance)
    })
    return { mostFailures, mostDue, chance }
  })
  return withAfterFailure(mixed, first.dueEvery)
}

function addTimes(into: Float64Array, factor: number, chance: Float64Array): void {
  for (let i = 0; i < chance.length; i++) into[i] = into[i]! + factor * chance[i]!
}

/** One of several counts, each with what its node weighs; those without counts are left out. */
export function mixOver(counts: readonly (EventCounts | null)[], weight: Float64Array): EventCounts {
  const shares = []
  for (let k = 0; k < counts.length; k++) {
    const here = counts[k]
    if (here) shares.push({ counts: here, weight: weight[k]! })
  }
  return mixShares(shares)
}

function amountsOf({ mostFailures, mostDue, chance }: EventCounts, cost: JobCost): Amounts {
  const amounts: { cost: number[]; chance: number[] } = { cost: [], chance: [] }
  for (let failures = 0, i = 0; failures <= mostFailures; failures++) {
    for (let due = 0; due <= mostDue; due++, i++) {
      amounts.cost.push(failures * cost.unplanned + due * cost.planned)
      amounts.chance.push(chance[i]!)
    }
  }
  return amounts
}

const meanOf = ({ cost, chance }: Amounts): number =>
  cost.reduce((sum, each, i) => sum + each * chance[i]!, 0)

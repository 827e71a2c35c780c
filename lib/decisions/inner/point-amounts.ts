/** What all positions of one weak point may cost together over a stretch of use. */
import type { Amounts } from '@/lib/model/lattice'
import type { LifeTables } from '@/lib/model/life-table'
import { failChance, failChanceByNode } from '@/lib/model/outlook'
import { countsAhead, countsFromNew, countsTogether, type EventCounts } from '@/lib/model/renewals-ahead'
import type { Strands } from '@/lib/model/strands'
import type { ComponentBelief } from '@/lib/scoring/component-belief'
import { renewedLife } from '@/lib/scoring/life-start'
import type { AdviceGround } from '../advice'
import type { JobCost } from '../costs'
import { renewalAge } from '../intervals'

export interface PointAmounts extends Amounts {
  /** Of the mean, what is due to positions of unknown age. */
  meanOfUnknown: number
}

/**
 * Positions that share the tables of their nodes share what is not known of them; others (a part of another revision)
 * are independent.
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
  const { belief } = ground.vehicle
  const byTables = new Map<LifeTables, EventCounts[][]>()
  const weights = new Map<LifeTables, Float64Array>()
  const after = new Map<number, PartsAfter>()
  let meanOfUnknown = 0
  for (const c of components) {
    const state = belief.beliefs[c]!
    const step = steps[c]!
    const parts = after.get(step) ?? partsAfter(ground, state, step)
    after.set(step, parts)
    const { tables } = state.currentNodes()
    const { counts, weight } = countsByNode(ground, c, step, parts)
    byTables.set(tables, [...(byTables.get(tables) ?? []), counts])
    const summed = weights.get(tables) ?? new Float64Array(tables.count)
    weights.set(
      tables,
      summed.map((each, k) => each + weight[k]!),
    )
    if (state.beginning.how === 'unknown') meanOfUnknown += meanCost(mixOver(counts, weight), cost)
  }
  const counts = [...byTables].map(([tables, positions]) => {
    const weight = weights.get(tables)!.map((each) => each / positions.length)
    const together = Array.from(weight, (_, k) => positions.map((each) => each[k]!).reduce(countsTogether))
    return mixOver(together, weight)
  })
  return { ...amountsOf(counts.reduce(countsTogether), cost), meanOfUnknown }
}

/** Cells in which a period is cut, by the chance that a new part fails within it. */
const CELLS: readonly (readonly [below: number, cells: number])[] = [
  [0.002, 2],
  [0.02, 4],
  [0.15, 8],
  [0.5, 16],
  [1.1, 40],
]
const CELLS_AN_INTERVAL = 4
const MOST_CELLS = 120
/** More failures of one position within a period than this, and so many more for each likely one, count as this many. */
const MORE_FAILURES = 5

/** The parts to come after one that ends, over a stretch of use; alike for positions that age alike. */
interface PartsAfter {
  cells: number
  /** By node of the original part, and by half cells still to go. */
  counts: EventCounts[][]
  original: LifeTables
  /** Half cells in a length of effective units; Infinity beyond the stretch. */
  inHalves(length: number): number
  /** The stated interval, in effective units. */
  limit: number
}

function partsAfter(ground: AdviceGround, { component, duty }: ComponentBelief, step: number): PartsAfter {
  const { weakPoint } = component
  const original = ground.parameters.of(weakPoint, null, ground.vehicle.belief.plan.variant).nodes
  const renewed = renewedLife(original, weakPoint.success)
  const limit = (weakPoint.renewEvery ?? Number.POSITIVE_INFINITY) * duty
  const chance = failChance(renewed, step)
  const ofInterval = Number.isFinite(limit) ? Math.ceil((CELLS_AN_INTERVAL * step) / limit) : 0
  const cells = Math.min(Math.max(CELLS.find(([below]) => chance < below)![1], ofInterval), MOST_CELLS)
  const half = step / (2 * cells)
  const inHalves = (length: number) =>
    length <= 0 ? 0 : length <= step ? Math.ceil(length / half) : Number.POSITIVE_INFINITY
  const terms = {
    dueEvery: Math.max(inHalves(limit), 1),
    mostDue: Number.isFinite(limit) ? Math.min(Math.ceil(step / limit) + 1, MOST_CELLS) : 0,
    mostFailures: MORE_FAILURES + Math.ceil(4 * -Math.log1p(-Math.min(chance, 1 - 1e-4))),
  }
  const curves = survivalByNode(renewed, step, 2 * cells)
  const counts = curves.map((survives) => countsFromNew({ survives, ...terms }))
  return { cells, counts, original, inHalves, limit }
}

/** The counts of one position at every node, and what each node weighs. */
function countsByNode(ground: AdviceGround, c: number, step: number, after: PartsAfter) {
  const { belief } = ground.vehicle
  const state = belief.beliefs[c]!
  const present = state.currentNodes()
  const ran = renewalAge(belief, c) * state.duty
  const dueAfter = after.inHalves(Math.max(after.limit - ran, 0))
  const firsts = survivalByNode(present, step, after.cells)
  const mixed = after.counts.length === firsts.length ? null : mixLives(after.counts, after.original)
  const counts = firsts.map((survives, k) =>
    countsAhead(
      state.failed ? { failed: true } : { failed: false, survives, dueAfter },
      mixed ?? after.counts[k]!,
    ),
  )
  return { counts, weight: nodeWeights(present, state) }
}

/** By node, P(not failed) at so many even moments up to `step`; a node without mass never fails. */
function survivalByNode(strands: Strands, step: number, moments: number): Float64Array[] {
  const { count } = strands.tables
  const curves = Array.from({ length: count }, () => new Float64Array(moments + 1).fill(1))
  for (let m = 1; m <= moments; m++) {
    const [mass, fails] = [new Float64Array(count), new Float64Array(count)]
    failChanceByNode(strands, (step * m) / moments, mass, fails)
    for (let k = 0; k < count; k++) {
      const curve = curves[k]!
      const alive = mass[k]! > 0 ? 1 - fails[k]! / mass[k]! : 1
      curve[m] = Math.min(Math.max(alive, 0), curve[m - 1]!)
    }
  }
  return curves
}

function nodeWeights(
  { tables, node, sound, developing }: Strands,
  { failed }: ComponentBelief,
): Float64Array {
  const weight = new Float64Array(tables.count)
  if (failed) return weight.map((_, k) => tables.weight[k]!)
  for (let i = 0; i < node.length; i++) weight[node[i]!] = weight[node[i]!]! + sound[i]! + developing[i]!
  const total = weight.reduce((a, b) => a + b, 0)
  return weight.map((each) => each / total)
}

/** A part whose nodes are not those of the original: what comes after it is the mean over the original's nodes. */
function mixLives(lives: readonly EventCounts[][], { weight }: LifeTables): EventCounts[] {
  const total = weight.reduce((a, b) => a + b, 0)
  const shares = weight.map((each) => each / total)
  return lives[0]!.map((_, left) =>
    mixOver(
      lives.map((each) => each[left]!),
      shares,
    ),
  )
}

function mixOver(counts: readonly EventCounts[], weight: Float64Array): EventCounts {
  // Cut alike by construction: a weak point's positions share interval and stretch, but not their failures' most.
  const mostFailures = Math.max(...counts.map((each) => each.mostFailures))
  const mostDue = Math.max(...counts.map((each) => each.mostDue))
  const chance = new Float64Array((mostFailures + 1) * (mostDue + 1))
  counts.forEach((each, k) => {
    each.chance.forEach((p, i) => {
      const row = each.mostDue + 1
      const at = Math.floor(i / row) * (mostDue + 1) + (i % row)
      chance[at] = chance[at]! + weight[k]! * p
    })
  })
  return { mostFailures, mostDue, chance }
}

function amountsOf({ mostDue, chance }: EventCounts, { planned, unplanned }: JobCost): Amounts {
  const cost = Array.from(chance, (_, i) => {
    const failures = Math.floor(i / (mostDue + 1))
    return failures * unplanned + (i % (mostDue + 1)) * planned
  })
  return { cost, chance: Array.from(chance) }
}

function meanCost(counts: EventCounts, cost: JobCost): number {
  const { cost: costs, chance } = amountsOf(counts, cost)
  return costs.reduce((sum, each, i) => sum + each * chance[i]!, 0)
}

/** The positions of one weak point of a vehicle over a stretch of use: how often they fail and come due. */
import { CountsByNode, countsTogether, type EventCounts, togetherByNode } from '@/lib/model/event-counts'
import type { LifeCourse } from '@/lib/model/life-course'
import type { LifeTables } from '@/lib/model/life-table'
import type { CountsFromNew } from '@/lib/model/renewals-ahead'
import { StretchAhead, writeFailed } from '@/lib/model/stretch-ahead'
import type { AdviceGround } from '../advice'
import { renewalAge } from '../intervals'
import { shortestFirst } from '../supposing'
import { type Coupling, couplingOf, onCommonLives } from './common-lives'
import { courseOf } from './courses'
import { type PartsAfter, type PartsFollowed, partsFollowed } from './parts-after'
import { SurvivalAhead } from './survival-ahead'

/** The lightest nodes are left out that weigh no more than this together. */
const LIGHT = 1e-5
/** Events of less chance count as the most that are likelier. */
const RARE = 1e-10

interface Position {
  component: number
  failed: boolean
  isOfUnknownAge: boolean
  /** The parts that come after it; its interval runs out after so many effective units, Infinity: never. */
  parts: PartsFollowed
  dueAfter: number
  /** What the nodes weigh for it; they sum to 1. */
  own: Float64Array
  /** The nodes that weigh something. */
  nodes: Int32Array
  coupling: Coupling | null
}

/** Positions that share their nodes. */
interface SharedLives {
  tables: LifeTables
  /** What each node weighs: the mean over the positions. They sum to 1. */
  weight: Float64Array
  positions: Position[]
}

/** Other weights for the nodes of positions that share them: for each there is an answer. */
export type WeightsAsked = (lives: Pick<SharedLives, 'tables' | 'weight'>) => Float64Array[]

/**
 * Positions that share the tables of their nodes share what is not known of them, each by what its own history makes
 * likely (`common-lives.ts`); others (a part of another revision) are independent.
 */
export class PointLives {
  private readonly shared: SharedLives[]

  /** @param components of one weak point */
  constructor(
    private readonly ground: AdviceGround,
    components: readonly number[],
  ) {
    const { beliefs } = ground.vehicle.belief
    const byTables = new Map<LifeTables, number[]>()
    for (const c of components) {
      const { tables } = beliefs[c]!.currentNodes()
      byTables.set(tables, [...(byTables.get(tables) ?? []), c])
    }
    this.shared = [...byTables].map(([tables, sharing]) => sharedLives(ground, tables, sharing))
  }

  /**
   * @param steps effective clock units of the stretch, by component
   * @returns all positions together, for each of the weights asked; and by itself each position of unknown age
   */
  countsAfter(steps: Float64Array, asked: WeightsAsked): { all: EventCounts[]; ofUnknown: EventCounts[] } {
    const ofUnknown: EventCounts[] = []
    const shared = this.shared.map((lives) => {
      const byNode = this.togetherOf(lives, steps, ofUnknown)
      return asked(lives).map((weight) => byNode.mix(weight))
    })
    const [first, ...others] = shared
    const all = first!.map((counts, i) => others.reduce((sum, each) => countsTogether(sum, each[i]!), counts))
    return { all, ofUnknown }
  }

  /** @returns in room that is used again for the next */
  private togetherOf(
    { positions }: SharedLives,
    steps: Float64Array,
    ofUnknown: EventCounts[],
  ): CountsByNode {
    let together: CountsByNode | null = null
    for (let i = 0; i < positions.length; i++) {
      const position = positions[i]!
      const { alone, coupled }: PositionRooms = together ? rooms.next : rooms.first
      countsOf(this.ground, position, steps[position.component]!, alone)
      if (position.isOfUnknownAge) ofUnknown.push(alone.mix(position.own))
      const here: CountsByNode = position.coupling ? onCommonLives(alone, position.coupling, coupled) : alone
      together = together ? togetherByNode(together, here, RARE, rooms.sums[i % 2]!) : here
    }
    return together!
  }
}

interface PositionRooms {
  alone: CountsByNode
  coupled: CountsByNode
}

const rooms = {
  first: { alone: new CountsByNode(), coupled: new CountsByNode() },
  next: { alone: new CountsByNode(), coupled: new CountsByNode() },
  sums: [new CountsByNode(), new CountsByNode()],
}

function sharedLives(ground: AdviceGround, tables: LifeTables, components: readonly number[]): SharedLives {
  const weights = components.map((c) => withoutLight(nodeWeights(ground, c)))
  const weight = new Float64Array(tables.count)
  for (const own of weights)
    for (let k = 0; k < own.length; k++) weight[k] = weight[k]! + own[k]! / weights.length
  const order = shortestFirst(tables)
  const positions = components.map((component, i) => {
    const own = weights[i]!
    const coupling = couplingOf(own, weight, order)
    return { ...partOf(ground, component), own, nodes: heldBy(own), coupling }
  })
  return { tables, weight, positions }
}

function partOf(ground: AdviceGround, component: number): Omit<Position, 'own' | 'nodes' | 'coupling'> {
  const { belief } = ground.vehicle
  const { component: place, failed, duty, beginning } = belief.beliefs[component]!
  const { weakPoint } = place
  const original = ground.parameters.of(weakPoint, null, belief.plan.variant).nodes
  const limit = (weakPoint.renewEvery ?? Number.POSITIVE_INFINITY) * duty
  return {
    component,
    failed,
    isOfUnknownAge: beginning.how === 'unknown',
    parts: partsFollowed({ original, success: weakPoint.success, limit }),
    dueAfter: Math.max(limit - renewalAge(belief, component) * duty, 0),
  }
}

function nodeWeights(ground: AdviceGround, c: number): Float64Array {
  const state = ground.vehicle.belief.beliefs[c]!
  return state.failed ? state.currentNodes().tables.weight : courseOf(ground, c).weight
}

/** They sum to 1; the lightest weigh nothing. */
function withoutLight(weight: Float64Array): Float64Array {
  const light: number[] = []
  for (let k = 0; k < weight.length; k++) if (weight[k]! <= LIGHT) light.push(weight[k]!)
  light.sort((a, b) => a - b)
  let [total, limit] = [0, 0]
  for (const each of light) {
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

function heldBy(weight: Float64Array): Int32Array {
  const places = new Int32Array(weight.length)
  let count = 0
  for (let k = 0; k < weight.length; k++) if (weight[k]! > 0) places[count++] = k
  return places.subarray(0, count)
}

/** The counts of one position at every node that weighs something. @param counts where they are written */
function countsOf(ground: AdviceGround, position: Position, step: number, counts: CountsByNode): void {
  const { nodes, own, failed, parts } = position
  if (!(step > 0)) {
    writeSoFar(failed, nodes, counts.begin(own.length, 1, 0))
    return
  }
  const after = parts.over(step)
  counts.begin(own.length, after.mostFailures + 1, after.mostDue)
  if (failed)
    for (const k of nodes) writeFailed(step / after.half, fromNewAt(after, own.length, k), counts, k)
  else writeAhead(courseOf(ground, position.component), position, step, counts)
  for (let i = 0; i < nodes.length; i++) counts.foldRare(nodes[i]!, RARE)
}

/** What comes after a part at one of its nodes: where these are not the original's, the mean over the original's. */
const fromNewAt = (after: PartsAfter, nodes: number, k: number): CountsFromNew =>
  after.byNode.length === nodes ? after.byNode[k]! : after.mean()

/** Over no use at all: what has failed already is put right. */
function writeSoFar(failed: boolean, nodes: Int32Array, counts: CountsByNode): void {
  for (const k of nodes) {
    counts.most[k] = failed ? 1 : 0
    counts.chance[k * counts.stride + counts.most[k]!] = 1
  }
}

function writeAhead(
  course: LifeCourse,
  { nodes, own, dueAfter, parts }: Position,
  step: number,
  counts: CountsByNode,
): void {
  const after = parts.over(step)
  const chance = Number.isFinite(dueAfter) ? 1 : after.chance
  survival.read(course, nodes, { step, most: after.cells, chance })
  const stretches: StretchAhead[] = [] // by number of cells
  for (let i = 0; i < nodes.length; i++) {
    const k = nodes[i]!
    const cells = survival.cells[k]!
    const fromNew = fromNewAt(after, own.length, k)
    stretches[cells] ??= new StretchAhead(fromNew, {
      cells,
      dueAfter: dueAfter / after.half,
      period: step / after.half,
    })
    stretches[cells].write(survival.curves, k * survival.stride, fromNew, counts, k)
  }
}

const survival = new SurvivalAhead()

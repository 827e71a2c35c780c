/** How often parts fail within a period, and how often they are renewed because they are due: by itself, and node by node. */

/** P(so many failures, so many due renewals): `chance[failures · (mostDue + 1) + due]`; what is beyond the most counts there. */
export interface EventCounts {
  mostFailures: number
  mostDue: number
  chance: Float64Array
}

/** The counts of two parts together that are independent of each other; it may hold twice as many events. */
export function countsTogether(a: EventCounts, b: EventCounts): EventCounts {
  const both = new CountsByNode().begin(1, a.mostFailures + b.mostFailures, a.mostDue + b.mostDue)
  addTogether(both, 0, asOneNode(a), asOneNode(b))
  return both.mix(Float64Array.of(1))
}

/** One of several counts, each with its weight; the weights sum to 1. */
export function mixCounts(counts: readonly EventCounts[], weight: ArrayLike<number>): EventCounts {
  const mostFailures = Math.max(...counts.map((each) => each.mostFailures))
  const mostDue = Math.max(...counts.map((each) => each.mostDue))
  const chance = new Float64Array((mostFailures + 1) * (mostDue + 1))
  counts.forEach((each, k) => {
    const row = each.mostDue + 1
    each.chance.forEach((p, i) => {
      const at = Math.floor(i / row) * (mostDue + 1) + (i % row)
      chance[at] = chance[at]! + weight[k]! * p
    })
  })
  return { mostFailures, mostDue, chance }
}

function asOneNode({ mostFailures, mostDue, chance }: EventCounts): CountsByNode {
  const one = new CountsByNode().begin(1, mostFailures, mostDue)
  one.chance.set(chance)
  one.most[0] = mostFailures
  return one
}

/** Event counts at each node of a life, a row of one array for each: as `EventCounts` has them. */
export class CountsByNode {
  nodes = 0
  mostDue = 0
  /** Chances that belong to one number of failures, and that there is room for in all. */
  row = 1
  stride = 1
  chance = new Float64Array(0)
  /** By node: failures that are told apart; −1 where nothing is told of the node. */
  most = new Int32Array(0)

  /** As if just made, in the room of what it told before. @param mostFailures of the node that tells most of them apart */
  begin(nodes: number, mostFailures: number, mostDue: number): this {
    this.nodes = nodes
    this.mostDue = mostDue
    this.row = mostDue + 1
    this.stride = (mostFailures + 1) * this.row
    const size = nodes * this.stride
    if (this.chance.length < size) this.chance = new Float64Array(2 * size)
    else this.chance.fill(0, 0, size)
    if (this.most.length < nodes) this.most = new Int32Array(nodes)
    this.most.fill(-1)
    return this
  }

  /** More events than likely ones count as the most that are left: no more than `negligible` is moved. */
  foldRare(node: number, negligible: number): void {
    const { chance, row } = this
    const from = node * this.stride
    let most = this.most[node]!
    for (let tail = 0; most > 0; most--) {
      for (let i = from + most * row; i < from + (most + 1) * row; i++) tail += chance[i]!
      if (tail >= negligible) break
    }
    const last = from + most * row
    for (let f = this.most[node]!; f > most; f--) {
      for (let d = 0; d < row; d++) {
        chance[last + d] = chance[last + d]! + chance[from + f * row + d]!
        chance[from + f * row + d] = 0
      }
    }
    this.most[node] = most
  }

  /** The largest of what nodes tell apart; −1 where nothing is told of any. */
  get mostOfAny(): number {
    let most = -1
    for (let k = 0; k < this.nodes; k++) if (this.most[k]! > most) most = this.most[k]!
    return most
  }

  /** One of the nodes that something is told of, each with its weight; together these weigh anything above 0. */
  mix(weight: Float64Array): EventCounts {
    const { nodes, chance, row, stride, most, mostDue } = this
    const mostFailures = this.mostOfAny
    const mixed = new Float64Array((mostFailures + 1) * row)
    let total = 0
    for (let k = 0; k < nodes; k++) if (most[k]! >= 0) total += weight[k]!
    for (let k = 0; k < nodes; k++) {
      if (most[k]! < 0) continue
      const share = weight[k]! / total
      const used = (most[k]! + 1) * row
      for (let i = 0, at = k * stride; i < used; i++, at++) mixed[i] = mixed[i]! + share * chance[at]!
    }
    return { mostFailures, mostDue, chance: mixed }
  }
}

/**
 * Two parts together that are independent of each other at each node, of which both tell something or neither.
 *
 * @param negligible so much may be moved from the rarest counts of a node
 * @param both the room for them: another than that of either
 */
export function togetherByNode(
  a: CountsByNode,
  b: CountsByNode,
  negligible: number,
  both = new CountsByNode(),
): CountsByNode {
  let most = 0
  for (let k = 0; k < a.nodes; k++) most = Math.max(most, a.most[k]! + b.most[k]!)
  both.begin(a.nodes, most, a.mostDue + b.mostDue)
  for (let k = 0; k < a.nodes; k++) {
    if (a.most[k]! < 0) continue
    addTogether(both, k, a, b)
    both.foldRare(k, negligible)
  }
  return both
}

/** Every count of the one with every count of the other. */
function addTogether(both: CountsByNode, node: number, a: CountsByNode, b: CountsByNode): void {
  const sum = both.chance
  const [ofA, ofB] = [node * a.stride, node * b.stride]
  both.most[node] = a.most[node]! + b.most[node]!
  for (let f = 0, i = ofA; f <= a.most[node]!; f++) {
    for (let d = 0; d < a.row; d++, i++) {
      const p = a.chance[i]!
      if (!(p > 0)) continue
      let to = node * both.stride + f * both.row + d
      for (let g = 0, from = ofB; g <= b.most[node]!; g++, to += both.row) {
        for (let e = 0; e < b.row; e++, from++) sum[to + e] = sum[to + e]! + p * b.chance[from]!
      }
    }
  }
}

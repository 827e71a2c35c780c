/**
 * How often a part that is there, and those that come after it, will fail within a stretch and be renewed because an
 * interval has run out: by the cell of the stretch in which it fails, from whose middle on the counts are those of new
 * parts (`renewals-ahead`).
 */
import type { CountsByNode } from './event-counts'
import type { CountsFromNew } from './renewals-ahead'

const ON_GRID = 1e-9

/** Where so many half cells still to go lie among those that are known: between `low` and the next. */
interface Place {
  low: number
  share: number
}

function placeOf(left: number, { reach, dueEvery }: Pick<CountsFromNew, 'reach' | 'dueEvery'>): Place {
  const low = Math.min(Math.floor(left + ON_GRID), reach)
  const share = Math.max(left - low, 0)
  // Where an interval runs out the counts leap: until then nothing of it shows.
  const isOn = share < ON_GRID || low + 1 > reach || (low + 1) % dueEvery === 0
  return { low, share: isOn ? 0 : share }
}

/** How a stretch is cut. Lengths are half cells of the parts to come. */
export interface StretchCells {
  cells: number
  /** After which its interval has run out, 0 where it has; Infinity: never. */
  dueAfter: number
  /** No more than the parts to come reach. */
  period: number
}

/** For a part that is good, at any node: where its cells lie among the counts of the parts to come is alike for all of them. */
export class StretchAhead {
  private readonly width: number
  private readonly until: number
  private readonly isCut: boolean
  private readonly places: Place[] = []

  /** @param like the parts to come at any node: all reach as far */
  constructor(
    like: CountsFromNew,
    private readonly said: StretchCells,
  ) {
    const { cells, dueAfter, period } = said
    this.width = period / cells
    this.until = Math.min(dueAfter, period)
    const used = Math.min(Math.ceil(this.until / this.width), cells)
    this.isCut = used * this.width > this.until
    for (let cell = 0; cell < used; cell++) {
      const to = this.isCut && cell === used - 1 ? this.until : (cell + 1) * this.width
      this.places.push(placeOf(period - (cell * this.width + to) / 2, like))
    }
  }

  /**
   * Writes the counts at one node, of which nothing was told.
   *
   * @param survives P(not failed) at the moments between the cells, from now to the end: `cells` + 1 numbers from `at` on
   * @param fromNew the parts to come at this node
   * @param into with room for one failure more than theirs
   */
  write(survives: Float64Array, at: number, fromNew: CountsFromNew, into: CountsByNode, node: number): void {
    const { said, until, places, isCut } = this
    const { cells, dueAfter, period } = said
    into.most[node] = fromNew.mostFailures + 1
    if (dueAfter <= period) {
      const { low, share } = placeOf(period - dueAfter, fromNew)
      const mass = this.readAt(survives, at, dueAfter)
      addAfterDue(into, node, mass * (1 - share), fromNew, low)
      if (share > 0) addAfterDue(into, node, mass * share, fromNew, low + 1)
    } else into.chance[node * into.stride] = survives[at + cells]!
    for (let cell = 0; cell < places.length; cell++) {
      const isLast = isCut && cell === places.length - 1
      const then = isLast ? this.readAt(survives, at, until) : survives[at + cell + 1]!
      addAfterFailure(into, node, survives[at + cell]! - then, fromNew, places[cell]!)
    }
  }

  /** A curve between two of its moments, by a straight line. */
  private readAt(survives: Float64Array, at: number, halfCells: number): number {
    const place = halfCells / this.width
    const { cells } = this.said
    const low = Math.min(Math.floor(place + ON_GRID), cells)
    const share = Math.max(place - low, 0)
    const here = survives[at + low]!
    return share < ON_GRID || low === cells ? here : here + share * (survives[at + low + 1]! - here)
  }
}

/**
 * Writes the counts, at one node of which nothing was told, of a part that has failed: it is replaced at once.
 *
 * @param period half cells, no more than `fromNew` reaches
 */
export function writeFailed(period: number, fromNew: CountsFromNew, into: CountsByNode, node: number): void {
  into.most[node] = fromNew.mostFailures + 1
  addAfterFailure(into, node, 1, fromNew, placeOf(period, fromNew))
}

function addAfterFailure(
  { chance, stride }: CountsByNode,
  node: number,
  mass: number,
  { after, size }: CountsFromNew,
  { low, share }: Place,
): void {
  let to = node * stride
  const from = low * size
  const [below, above] = [mass * (1 - share), mass * share]
  if (share > 0)
    for (let i = from; i < from + size; i++, to++)
      chance[to] = chance[to]! + below * after[i]! + above * after[i + size]!
  else for (let i = from; i < from + size; i++, to++) chance[to] = chance[to]! + mass * after[i]!
}

function addAfterDue(
  { chance, stride }: CountsByNode,
  node: number,
  mass: number,
  { after, size, row, mostFailures, mostDue }: CountsFromNew,
  left: number,
): void {
  let from = left * size + row
  for (let f = 0; f <= mostFailures; f++) {
    const to = node * stride + f * row
    for (let d = 0; d < row; d++, from++) {
      const at = to + Math.min(d + 1, mostDue)
      chance[at] = chance[at]! + mass * after[from]!
    }
  }
}

/**
 * The years ahead of one life, lived through once: how many are left, and how fast they fail, at a few moments that lie
 * farther and farther apart. Everything that is asked of a later moment is read off between them.
 *
 * A strand's step is exact however long (`strands`), so only the reading between moments is approximate: by cubic Hermite
 * interpolation of −log P(not failed), of which the slope is known exactly too, for it is the hazard. Over random lives a
 * chance is within 0.005 of the exact one (`tests/model/life-course.test.ts`).
 */
import {
  advance,
  applyTransition,
  copyStrands,
  makeTransition,
  type Strands,
  selectStrands,
  type Transition,
} from './strands'

/** Each moment is so much farther than the one before it; after so many, where less hangs on it, by more. */
const FARTHER = 1.3
const MUCH_FARTHER = 1.4
const NEAR_MOMENTS = 12
/** Those few who are still sound where most are developing need no more digits than this leaves. */
const OLD_RATIO = 10
/** The first moment, as a share of the shortest mean P–F interval that weighs anything, and of the shortest scale. */
const FIRST_OF_WARNING = 0.37
const FIRST_OF_SCALE = 0.02
/** Nodes of less weight do not make the moments finer. */
const LIGHT = 0.002
/** … and of the time in which a part fails at the pace at which the worst node fails now. */
const FIRST_OF_PACE = 0.25
/** Where a smaller share is left, nobody is. */
const NOBODY_LEFT = 1e-250
/** Strands of less mass are not lived on: they would all have failed. */
const NO_MASS = 1e-9
const WORTH_LEAVING_OUT = 0.5

/** One life as believed now, by parameter node. Lengths are effective clock units, 0 or more. */
export class LifeCourse {
  /** What each node weighs; they sum to 1. */
  readonly weight: Float64Array
  private strands: Strands
  private readonly moments = [0]
  /**
   * By moment two rows, of each node: what is left and how much of it fails a unit; as far as single nodes were asked
   * for, −log P(not failed) and its slope instead.
   */
  private table: Float64Array
  /** Whether a moment is of the second kind. */
  private readonly isToldApart: boolean[] = []
  /** By moment, over all nodes: P(failed), its slope, and the expected units until then or failure. */
  private readonly fails: number[] = []
  private readonly slope: number[] = []
  private readonly units: number[] = []
  private readonly first: number
  /** Of all masses at first: 1, or what rounding made of it. */
  private whole = 1

  /** @param strands their masses sum to 1; they are copied */
  constructor(strands: Strands) {
    this.strands = copyStrands(strands)
    const { count } = strands.tables
    this.table = new Float64Array(FIRST_MOMENTS * 2 * count)
    this.note()
    this.weight = this.table.slice(0, count)
    let pace = 0
    for (let k = 0; k < count; k++) {
      if (this.weight[k]! >= LIGHT) pace = Math.max(pace, this.table[count + k]! / this.weight[k]!)
    }
    this.first = Math.min(firstMoment(strands), FIRST_OF_PACE / pace)
  }

  /**
   * P(not failed) after `step`, by node; 1 for a node that weighs nothing.
   *
   * @param asked begins with the nodes that are written, `many` of them; all where it is left out
   */
  aliveByNode(
    step: number,
    into: Float64Array = new Float64Array(this.weight.length),
    asked?: Int32Array,
    many = this.weight.length,
  ): Float64Array {
    if (!(step > 0)) return into.fill(1)
    const j = this.before(step)
    const width = this.moments[j + 1]! - this.moments[j]!
    const t = (step - this.moments[j]!) / width
    this.tellApart(j)
    this.tellApart(j + 1)
    const { table } = this
    const count = this.weight.length
    for (let i = 0; i < many; i++) {
      const k = asked ? asked[i]! : i
      const at = 2 * j * count + k
      const [gone, hazard] = [table[at]!, table[at + count]!]
      const then = hermite(t, width, gone, table[at + 2 * count]!, hazard, table[at + 3 * count]!)
      into[k] = Math.exp(-Math.max(then, gone))
    }
    return into
  }

  /** Over all nodes: P(fails within `step`), and the expected units until then or failure. */
  within(step: number): { fails: number; units: number } {
    if (!(step > 0)) return { fails: 0, units: 0 }
    const j = this.before(step)
    const from = this.moments[j]!
    const width = this.moments[j + 1]! - from
    const t = (step - from) / width
    const ends = [this.fails[j]!, this.fails[j + 1]!, this.slope[j]!, this.slope[j + 1]!] as const
    const fails = Math.min(Math.max(hermite(t, width, ...ends), 0), 1)
    return { fails, units: this.units[j]! + (step - from) - integral(t, width, ...ends) }
  }

  /** The last moment that is not after `step`; the course is lived on to beyond it. */
  private before(step: number): number {
    const { moments } = this
    while (!(moments.at(-1)! > step)) this.liveOn()
    let [low, high] = [0, moments.length - 1]
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (moments[middle]! <= step) low = middle
      else high = middle
    }
    return low
  }

  private liveOn(): void {
    this.leaveOutTheFailed()
    const { strands, moments } = this
    const from = moments.at(-1)!
    const transition = transitionOf(strands.node.length)
    const farther = moments.length > NEAR_MOMENTS ? MUCH_FARTHER : FARTHER
    const to = Math.max(farther * from, from + this.first)
    advance(strands, to - from, transition, OLD_RATIO, NO_MASS)
    applyTransition(transition, strands.sound, strands.developing)
    moments.push(to)
    this.note()
  }

  private leaveOutTheFailed(): void {
    const { node, sound, developing } = this.strands
    let left = 0
    for (let i = 0; i < node.length; i++) if (sound[i]! + developing[i]! > NO_MASS) left++
    if (left > WORTH_LEAVING_OUT * node.length) return
    this.strands = selectStrands(this.strands, (i) => sound[i]! + developing[i]! > NO_MASS)
  }

  /** Writes down the present moment. */
  private note(): void {
    const { node, age, sound, developing, onset, tables } = this.strands
    const { count } = tables
    const from = 2 * count * (this.moments.length - 1)
    const table = this.roomUpTo(from + 2 * count)
    let left = 0
    let slope = 0
    for (let i = 0; i < node.length; i++) {
      const k = node[i]!
      const rate = tables.failRate[k]!
      const s = sound[i]!
      const d = developing[i]!
      const suddenly = rate === Number.POSITIVE_INFINITY
      const fails = !suddenly ? rate * d : age[i]! > 0 ? (s * tables.shape[k]! * onset[i]!) / age[i]! : 0
      table[from + k] = table[from + k]! + s + d
      table[from + count + k] = table[from + count + k]! + fails
      left += s + d
      slope += fails
    }
    this.noteAll(left, slope)
  }

  private noteAll(left: number, slope: number): void {
    const { moments, units } = this
    const last = moments.length - 2
    if (last < 0) this.whole = left
    const fails = Math.max(this.whole - left, 0)
    if (last < 0) units.push(0)
    else {
      const width = moments[last + 1]! - moments[last]!
      const failed = integral(1, width, this.fails[last]!, fails, this.slope[last]!, slope)
      units.push(units[last]! + width - failed)
    }
    this.fails.push(fails)
    this.slope.push(slope)
  }

  private roomUpTo(size: number): Float64Array {
    if (this.table.length < size) {
      const more = new Float64Array(size + this.table.length)
      more.set(this.table)
      this.table = more
    }
    return this.table
  }

  /** A moment by node. */
  private tellApart(m: number): void {
    if (this.isToldApart[m]) return
    this.isToldApart[m] = true
    const { weight, moments, table } = this
    const count = weight.length
    for (let k = 0, at = 2 * m * count; k < count; k++, at++) {
      if (!(weight[k]! > 0)) continue
      const alive = table[at]!
      if (alive > weight[k]! * NOBODY_LEFT) {
        table[at] = Math.max(Math.log(weight[k]! / alive), 0)
        table[at + count] = table[at + count]! / alive
      } else {
        // They all failed on the way: at the pace of the moment before, or faster.
        this.tellApart(m - 1)
        const [gone, hazard] = [table[at - 2 * count]!, table[at - count]!]
        table[at] = Math.max(-Math.log(NOBODY_LEFT), gone + hazard * (moments[m]! - moments[m - 1]!))
        table[at + count] = hazard
      }
    }
  }
}

/** The way to most of what is asked has no more moments. */
const FIRST_MOMENTS = 16

let transition = makeTransition(0)

/** One for all courses, which are lived on one at a time. */
function transitionOf(size: number): Transition {
  if (transition.stay.length < size) transition = makeTransition(size)
  return transition
}

function firstMoment({ tables, node, sound, developing }: Strands): number {
  let [quickest, scale] = [0, Number.POSITIVE_INFINITY]
  for (let i = 0; i < node.length; i++) {
    if (sound[i]! + developing[i]! < LIGHT) continue
    const rate = tables.failRate[node[i]!]!
    if (rate < Number.POSITIVE_INFINITY && rate > quickest) quickest = rate
    scale = Math.min(scale, tables.logScale[node[i]!]!)
  }
  const first = Math.min(FIRST_OF_WARNING / quickest, FIRST_OF_SCALE * Math.exp(scale))
  return Number.isFinite(first) && first > 0 ? first : 1
}

/** The cubic through two values with their slopes, at `t` of the way between. */
function hermite(t: number, width: number, v0: number, v1: number, slope0: number, slope1: number): number {
  const rise = v1 - v0
  const bend0 = width * slope0 - rise
  const bend1 = width * slope1 - rise
  return v0 + t * (rise + (1 - t) * (bend0 * (1 - t) - bend1 * t))
}

/** Its integral from the first end up to `t`. */
function integral(t: number, width: number, v0: number, v1: number, slope0: number, slope1: number): number {
  const t2 = t * t
  const t3 = t2 * t
  const t4 = t2 * t2
  const ofV1 = t3 - t4 / 2
  const ofSlope0 = t2 / 2 - (2 * t3) / 3 + t4 / 4
  const ofSlope1 = t4 / 4 - t3 / 3
  return width * (v0 * (t - ofV1) + v1 * ofV1 + width * (slope0 * ofSlope0 + slope1 * ofSlope1))
}

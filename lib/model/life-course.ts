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
const MUCH_FARTHER = 1.45
const NEAR_MOMENTS = 12
/** Those few who are still sound where most are developing need no more digits than this leaves. */
const OLD_RATIO = 10
/** The first moment, as a share of the shortest mean P–F interval that weighs anything, and of the shortest scale. */
const FIRST_OF_WARNING = 0.4
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
  private transition: Transition
  private readonly moments = [0]
  /** By moment: −log P(not failed) and its slope, by node. */
  private readonly gone: Float64Array[] = []
  private readonly hazard: Float64Array[] = []
  /** By moment, over all nodes: P(failed), its slope, and the expected units until then or failure. */
  private readonly fails: number[] = []
  private readonly slope: number[] = []
  private readonly units: number[] = []
  private readonly first: number

  /** @param strands their masses sum to 1; they are copied */
  constructor(strands: Strands) {
    this.strands = copyStrands(strands)
    this.transition = makeTransition(strands.node.length)
    this.weight = new Float64Array(strands.tables.count)
    this.note(this.weight)
    const pace = this.hazard[0]!.reduce(
      (most, each, k) => (this.weight[k]! < LIGHT ? most : Math.max(most, each)),
      0,
    )
    this.first = Math.min(firstMoment(strands), FIRST_OF_PACE / pace)
  }

  /** P(not failed) after `step`, by node; 1 for a node that weighs nothing. */
  aliveByNode(step: number, into = new Float64Array(this.weight.length)): Float64Array {
    if (!(step > 0)) return into.fill(1)
    const j = this.before(step)
    const width = this.moments[j + 1]! - this.moments[j]!
    const t = (step - this.moments[j]!) / width
    const [gone0, gone1, hazard0, hazard1] = [
      this.gone[j]!,
      this.gone[j + 1]!,
      this.hazard[j]!,
      this.hazard[j + 1]!,
    ]
    for (let k = 0; k < into.length; k++) {
      const gone = hermite(t, width, gone0[k]!, gone1[k]!, hazard0[k]!, hazard1[k]!)
      into[k] = Math.exp(-Math.max(gone, gone0[k]!))
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
    const { strands, transition, moments } = this
    const from = moments.at(-1)!
    const farther = moments.length > NEAR_MOMENTS ? MUCH_FARTHER : FARTHER
    const to = Math.max(farther * from, from + this.first)
    advance(strands, to - from, transition, OLD_RATIO)
    applyTransition(transition, strands.sound, strands.developing)
    moments.push(to)
    this.note(new Float64Array(this.weight.length))
  }

  private leaveOutTheFailed(): void {
    const { node, sound, developing } = this.strands
    let left = 0
    for (let i = 0; i < node.length; i++) if (sound[i]! + developing[i]! > NO_MASS) left++
    if (left > WORTH_LEAVING_OUT * node.length) return
    this.strands = selectStrands(this.strands, (i) => sound[i]! + developing[i]! > NO_MASS)
    this.transition = makeTransition(left)
  }

  /** Writes down the present moment. @param alive room for what is left of each node */
  private note(alive: Float64Array): void {
    const { node, age, sound, developing, onset, tables } = this.strands
    const failing = new Float64Array(alive.length)
    for (let i = 0; i < node.length; i++) {
      const k = node[i]!
      const rate = tables.failRate[k]!
      alive[k] = alive[k]! + sound[i]! + developing[i]!
      const hazard = (tables.shape[k]! * onset[i]!) / age[i]!
      failing[k]! +=
        rate < Number.POSITIVE_INFINITY ? rate * developing[i]! : age[i]! > 0 ? sound[i]! * hazard : 0
    }
    this.noteMoment(alive, failing)
  }

  private noteMoment(alive: Float64Array, failing: Float64Array): void {
    const { weight, moments } = this
    const last = moments.length - 2
    const gone = new Float64Array(alive.length)
    let [fails, slope] = [0, 0]
    for (let k = 0; k < alive.length; k++) {
      if (!(weight[k]! > 0)) continue
      fails += weight[k]! - alive[k]!
      slope += failing[k]!
      const before = this.gone[last]?.[k] ?? 0
      if (alive[k]! > weight[k]! * NOBODY_LEFT) {
        gone[k] = Math.max(Math.log(weight[k]! / alive[k]!), before)
        failing[k] = failing[k]! / alive[k]!
      } else {
        // They all failed on the way: at the pace of the moment before, or faster.
        failing[k] = this.hazard[last]![k]!
        gone[k] = Math.max(
          -Math.log(NOBODY_LEFT),
          before + failing[k]! * (moments[last + 1]! - moments[last]!),
        )
      }
    }
    this.gone.push(gone)
    this.hazard.push(failing)
    this.fails.push(Math.max(fails, 0))
    this.slope.push(slope)
    if (last < 0) this.units.push(0)
    else {
      const width = moments[last + 1]! - moments[last]!
      const failed = integral(1, width, this.fails[last]!, fails, this.slope[last]!, slope)
      this.units.push(this.units[last]! + width - failed)
    }
  }
}

function firstMoment({ tables, node, sound, developing }: Strands): number {
  let [warning, scale] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let i = 0; i < node.length; i++) {
    if (sound[i]! + developing[i]! < LIGHT) continue
    const k = node[i]!
    const mean = 1 / tables.failRate[k]!
    if (mean > 0) warning = Math.min(warning, mean)
    scale = Math.min(scale, Math.exp(tables.logScale[k]!))
  }
  const first = Math.min(FIRST_OF_WARNING * warning, FIRST_OF_SCALE * scale)
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
  const [t2, t3, t4] = [t * t, t ** 3, t ** 4]
  const ofV1 = t3 - t4 / 2
  const ofSlope0 = t2 / 2 - (2 * t3) / 3 + t4 / 4
  const ofSlope1 = t4 / 4 - t3 / 3
  return width * (v0 * (t - ofV1) + v1 * ofV1 + width * (slope0 * ofSlope0 + slope1 * ofSlope1))
}

/** What is ahead of one life: chances of failing within a step, by strand, by node and in all. */
import { failsFromSound } from './fails-from-sound'
import type { LifeTables } from './life-table'
import type { Strands } from './strands'

/** P(fails within `step` | developing now) for each of the tables' distinct 1/δ: the P–F interval has no memory. */
export function failsFromDeveloping({ rates }: LifeTables, step: number): Float64Array {
  const fails = new Float64Array(rates.length)
  if (!(step > 0)) return fails
  for (let r = 0; r < rates.length; r++) fails[r] = -Math.expm1(-step * rates[r]!)
  return fails
}

/** P(fails within `step`) over all strands; the masses sum to 1. */
export function failChance(strands: Strands, step: number): number {
  if (!(step > 0)) return 0
  const { tables, node, sound, developing } = strands
  const fromSound = failsFromSound(strands, step, roomFor(node.length))
  const fromDeveloping = failsFromDeveloping(tables, step)
  let fails = 0
  for (let i = 0; i < node.length; i++)
    fails += sound[i]! * fromSound[i]! + developing[i]! * fromDeveloping[tables.rateOf[node[i]!]!]!
  return fails
}

/**
 * Adds, for each node, its mass and its mass times P(fails within `step`) to the two arrays.
 *
 * @param from the first node's place in them
 */
export function failChanceByNode(
  strands: Strands,
  step: number,
  mass: Float64Array,
  failing: Float64Array,
  from = 0,
): void {
  const { tables, node, sound, developing } = strands
  const fromSound = failsFromSound(strands, step, roomFor(node.length))
  const fromDeveloping = failsFromDeveloping(tables, step)
  for (let i = 0; i < node.length; i++) {
    const at = from + node[i]!
    const [s, d] = [sound[i]!, developing[i]!]
    mass[at] = mass[at]! + s + d
    failing[at] = failing[at]! + s * fromSound[i]! + d * fromDeveloping[tables.rateOf[node[i]!]!]!
  }
}

let room = new Float64Array(0)

/** Room for one number a strand, which is used again for the next life. */
function roomFor(strands: number): Float64Array {
  if (room.length < strands) room = new Float64Array(2 * strands)
  return room
}

/** How near log(−log S) has to come to that of one half. */
const GOAL = 3e-5
const FARTHEST = 1e9
const MOST_TRIES = 60
/** One try moves the step by at most this factor. */
const LONGEST_STRIDE = 3

/**
 * The step within which the life fails with chance one half, in effective clock units; Infinity where it never
 * gets there. −log S is close to a power of the step, so its logarithm is followed along the logarithm of the step
 * by secants, between the bounds found so far.
 *
 * @param guess somewhere near it
 */
export function medianRemaining(strands: Strands, guess = typicalStep(strands)): number {
  const wanted = Math.log(Math.LN2)
  let [low, high] = [0, Number.POSITIVE_INFINITY]
  let step = guess
  let [before, atBefore, slope] = [Number.NaN, Number.NaN, 1]
  for (let i = 0; i < MOST_TRIES; i++) {
    const at = Math.log(-Math.log1p(-Math.min(failChance(strands, step), 1 - 1e-15)))
    if (Math.abs(at - wanted) < GOAL) return step
    if (at < wanted) low = step
    else high = step
    if (low > FARTHEST) return Number.POSITIVE_INFINITY
    const secant = (at - atBefore) / Math.log(step / before)
    if (secant > 0 && Number.isFinite(secant)) slope = secant
    ;[before, atBefore] = [step, at]
    const stride = Math.exp((wanted - at) / slope)
    const next = step * Math.min(Math.max(stride, 1 / LONGEST_STRIDE), LONGEST_STRIDE)
    step =
      next > low && next < high
        ? next
        : high === Number.POSITIVE_INFINITY
          ? LONGEST_STRIDE * low
          : (low + high) / 2
    if (high - low < 1e-9 * high) return step
  }
  return step
}

/** What is left of the scale of the heaviest strand, or its δ: somewhere near the median. */
function typicalStep({ tables, node, age, sound, developing }: Strands): number {
  let heaviest = 0
  const mass = (i: number) => sound[i]! + developing[i]!
  for (let i = 1; i < node.length; i++) if (mass(i) > mass(heaviest)) heaviest = i
  const k = node[heaviest]!
  const scale = Math.exp(tables.logScale[k]!)
  const pfMean = 1 / tables.failRate[k]!
  const left = Number.isFinite(scale) ? scale - age[heaviest]! : 0
  return Math.max(left, pfMean, scale < Number.POSITIVE_INFINITY ? scale / 10 : 1000)
}

/**
 * The values below which given shares of the weight lie: sorted, cumulative weight taken at mid-step, linear
 * between, flat beyond the outermost values.
 *
 * @param shares ascending
 */
export function weightedQuantiles(
  values: Float64Array,
  weights: Float64Array,
  shares: readonly number[],
): number[] {
  const order = new Uint32Array(values.length)
  let count = 0
  let total = 0
  for (let i = 0; i < values.length; i++) {
    if (!(weights[i]! > 0)) continue
    order[count++] = i
    total += weights[i]!
  }
  const sorted = order.subarray(0, count).sort((a, b) => values[a]! - values[b]!)
  const found: number[] = []
  let below = 0
  let lastAt = 0
  let lastValue = values[sorted[0] ?? 0] ?? 0
  for (const i of sorted) {
    const at = (below + weights[i]! / 2) / total
    while (found.length < shares.length && at >= shares[found.length]!) {
      const between = at > lastAt ? (shares[found.length]! - lastAt) / (at - lastAt) : 1
      found.push(lastValue + (values[i]! - lastValue) * between)
    }
    below += weights[i]!
    lastAt = at
    lastValue = values[i]!
  }
  while (found.length < shares.length) found.push(lastValue)
  return found
}

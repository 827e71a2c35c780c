/**
 * Distributions of money on a lattice: sums of independent amounts by convolution, mixtures, quantiles.
 *
 * Amounts are put on the nearest point of the lattice, so a sum of n amounts is off by at most n/2 steps, and so is every
 * quantile of it; a mean is kept exactly, beside.
 */

/** One thing that costs something or nothing: what it may cost, with chances that sum to 1. */
export interface Amounts {
  cost: readonly number[]
  chance: readonly number[]
}

export interface Lattice {
  /** Money between two points. */
  step: number
  /** P(the total is i steps). */
  mass: Float64Array
  /** Of the amounts themselves, not of the points. */
  mean: number
  /** How many amounts were put on the lattice one after the other. */
  summed: number
}

/** Unless more may be left out, points at the far end that hold less than this in all are folded into the last kept. */
const NEGLIGIBLE = 1e-13

/** A lattice of one unit has at most so many points; beyond, the step grows. */
export const MOST_POINTS = 1 << 17

/** The step at which the largest total fits: one unit, or coarser. */
export const stepFor = (largest: number, unit = 1): number =>
  unit * Math.max(1, Math.ceil(largest / unit / MOST_POINTS))

/** Nothing costs anything yet. */
export const nothing = (step: number): Lattice => ({ step, mass: Float64Array.of(1), mean: 0, summed: 0 })

/**
 * The total with one more independent amount: every point of the one with every amount of the other.
 *
 * @param amounts points of less chance than what is negligible count for the mean alone
 * @param negligible what may be left out at once; no quantile is off by more than it, in chance, for each amount
 */
export function addAmounts(total: Lattice, { cost, chance }: Amounts, negligible = NEGLIGIBLE): Lattice {
  const { step, mass } = total
  const at = new Map<number, number>()
  let mean = 0
  cost.forEach((each, i) => {
    const share = chance[i]!
    mean += share * each
    if (share < negligible) return
    const point = Math.round(each / step)
    at.set(point, (at.get(point) ?? 0) + share)
  })
  let farthest = 0
  for (const point of at.keys()) farthest = Math.max(farthest, point)
  const sum = roomFor(mass.length + farthest)
  const held = pointsHeld(mass, (negligible * HARDLY) / mass.length)
  for (const [point, share] of at) {
    for (let h = 0; h < held.length; h++) {
      const i = held[h]!
      sum[i + point] = sum[i + point]! + mass[i]! * share
    }
  }
  return { step, mass: withoutTail(sum, negligible), mean: total.mean + mean, summed: total.summed + 1 }
}

let room = new Float64Array(0)

/** Zeros, in room that is used again for the next sum: what is kept of it is copied. */
function roomFor(length: number): Float64Array {
  if (room.length < length) room = new Float64Array(2 * length)
  return room.subarray(0, length).fill(0)
}

let placesRoom = new Int32Array(0)

/** All points that are passed over hold so much less than what is negligible. */
const HARDLY = 1e-3

/** The points that hold more than `least`: with few different prices most hold nothing, and many hardly anything. */
function pointsHeld(mass: Float64Array, least: number): Int32Array {
  if (placesRoom.length < mass.length) placesRoom = new Int32Array(2 * mass.length)
  const held = placesRoom
  let count = 0
  for (let i = 0; i < mass.length; i++) if (mass[i]! > least) held[count++] = i
  return held.subarray(0, count)
}

function withoutTail(mass: Float64Array, negligible: number): Float64Array {
  let last = mass.length - 1
  let tail = 0
  while (last > 0 && tail + mass[last]! < negligible) tail += mass[last--]!
  const kept = mass.slice(0, last + 1)
  kept[last] = kept[last]! + tail
  return kept
}

/** One of several totals, each with its weight; the weights sum to 1. */
export function mixLattices(totals: readonly Lattice[], weights: readonly number[]): Lattice {
  const mass = new Float64Array(Math.max(...totals.map((each) => each.mass.length)))
  let mean = 0
  totals.forEach((each, k) => {
    mean += weights[k]! * each.mean
    for (let i = 0; i < each.mass.length; i++) mass[i] = mass[i]! + weights[k]! * each.mass[i]!
  })
  const summed = Math.max(...totals.map((each) => each.summed))
  return { step: totals[0]!.step, mass, mean, summed }
}

/** Rounding of sums of chances. */
const SLACK = 1e-12

/** The least amount that the total does not pass with at least each chance. @param levels 0 to 1, ascending */
export function quantiles({ step, mass }: Lattice, levels: readonly number[]): number[] {
  const found: number[] = []
  let below = 0
  for (let i = 0; i < mass.length; i++) {
    below += mass[i]!
    while (found.length < levels.length && below >= levels[found.length]! - SLACK) found.push(i * step)
  }
  while (found.length < levels.length) found.push((mass.length - 1) * step)
  return found
}

/** P(the total is at most `cost`), within the lattice's rounding. */
export function chanceUpTo({ step, mass }: Lattice, cost: number): number {
  const last = Math.min(Math.floor(cost / step + SLACK), mass.length - 1)
  let sum = 0
  for (let i = 0; i <= last; i++) sum += mass[i]!
  return sum
}

/** What a quantile may be off by because amounts were put on points: half a step each. */
export const roundingOf = ({ step, summed }: Lattice): number => (step / 2) * summed

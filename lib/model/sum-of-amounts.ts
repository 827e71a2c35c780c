/**
 * The total of a few independent amounts: what adding one after the other to every point of a lattice comes to
 * (`addAmounts`), found by going over the points alone that hold something. With few different prices most hold nothing.
 */
import type { Amounts, Lattice } from './lattice'

/** All points that are passed over hold so much less than what is negligible. */
const HARDLY = 1e-3

/** Some amounts that are added, and how likely they are the ones; the weights of all such ways sum to 1. */
export interface WayOfAmounts {
  weight: number
  amounts: readonly Amounts[]
}

/**
 * One of several totals.
 *
 * @param negligible amounts of less chance count for the mean alone; no quantile is off by more than it, in chance, for
 *   each amount of each
 */
export function totalOfWays(ways: readonly WayOfAmounts[], step: number, negligible: number): Lattice {
  let [mean, farthest, summed] = [0, 0, 0]
  for (const { weight, amounts } of ways) {
    sum.begin()
    for (const { cost, chance } of amounts) {
      for (let i = 0; i < cost.length; i++) mean += weight * chance[i]! * cost[i]!
      sum.add(pointsOf(cost, chance, step, negligible), negligible * HARDLY)
    }
    farthest = Math.max(farthest, sum.farthest)
    sum.mixInto(room(farthest + 1), weight)
    summed = Math.max(summed, amounts.length)
  }
  const mass = withoutTail(mixed, farthest, negligible)
  mixed.fill(0, 0, farthest + 1)
  return { step, mass, mean, summed }
}

/** By point: all zeros between two totals. */
let mixed = new Float64Array(0)

function room(points: number): Float64Array {
  if (mixed.length < points) {
    const more = new Float64Array(2 * points)
    more.set(mixed)
    mixed = more
  }
  return mixed
}

/** A copy; points at the far end that hold less than what is negligible are folded into the last kept. */
function withoutTail(mass: Float64Array, farthest: number, negligible: number): Float64Array {
  let [last, tail] = [farthest, 0]
  while (last > 0 && tail + mass[last]! < negligible) tail += mass[last--]!
  const kept = mass.slice(0, last + 1)
  kept[last] = kept[last]! + tail
  return kept
}

function pointsOf(
  cost: readonly number[],
  chance: readonly number[],
  step: number,
  negligible: number,
): Map<number, number> {
  const points = new Map<number, number>()
  for (let i = 0; i < cost.length; i++) {
    if (chance[i]! < negligible) continue
    const point = Math.round(cost[i]! / step)
    points.set(point, (points.get(point) ?? 0) + chance[i]!)
  }
  return points
}

/** A total that is somewhere on a lattice: points that hold something, each once, in any order, and what they hold. */
class SparseSum {
  farthest = 0
  private count = 0
  private at = new Int32Array(1)
  private mass = new Float64Array(1)
  /** By point: all zeros between two sums; and the points that one sum has touched. */
  private room = new Float64Array(0)
  private touched = new Int32Array(0)

  /** Nothing costs anything yet. */
  begin(): void {
    this.count = 1
    this.farthest = 0
    this.at[0] = 0
    this.mass[0] = 1
  }

  /** Every point of it with every point of another. @param hardly points that hold less than this together are left out */
  add(points: ReadonlyMap<number, number>, hardly: number): void {
    this.makeRoom(points)
    const { room, touched, at, mass } = this
    let met = 0
    for (const [point, share] of points) {
      for (let i = 0; i < this.count; i++) {
        const to = at[i]! + point
        // One whose share is too small for a number is met once more, and then holds nothing.
        if (room[to] === 0) touched[met++] = to
        room[to] = room[to]! + share * mass[i]!
      }
    }
    this.gather(met, hardly / met)
  }

  private gather(met: number, least: number): void {
    if (this.at.length < met) {
      this.at = new Int32Array(2 * met)
      this.mass = new Float64Array(2 * met)
    }
    const { room, touched, at, mass } = this
    this.count = 0
    this.farthest = 0
    for (let i = 0; i < met; i++) {
      const point = touched[i]!
      const here = room[point]!
      room[point] = 0
      if (!(here > least)) continue
      at[this.count] = point
      mass[this.count++] = here
      if (point > this.farthest) this.farthest = point
    }
  }

  private makeRoom(points: ReadonlyMap<number, number>): void {
    let far = this.farthest + 1
    for (const point of points.keys()) far = Math.max(far, this.farthest + point + 1)
    if (this.room.length < far) this.room = new Float64Array(2 * far)
    const pairs = this.count * points.size
    if (this.touched.length < pairs) this.touched = new Int32Array(2 * pairs)
  }

  mixInto(all: Float64Array, weight: number): void {
    for (let i = 0; i < this.count; i++) all[this.at[i]!] = all[this.at[i]!]! + weight * this.mass[i]!
  }
}

const sum = new SparseSum()

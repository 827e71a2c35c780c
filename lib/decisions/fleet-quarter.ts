/**
 * What the coming quarter brings if nothing is done before something fails: failures and money over all vehicles.
 *
 * Vehicles of one engine share what is not known of its weak points, so a band that took them as independent would be far
 * too narrow. For each weak point of an engine the lives that are thought possible are cut into fifths; within a fifth the
 * vehicles are independent and convolve; the fifths are mixed; then weak points and engines, which know nothing of each
 * other, convolve (as `lot` has it for what is set aside). A failure costs C_f, a stated interval that runs out C_p.
 */

import type { EventCounts } from '@/lib/model/event-counts'
import { addAmounts, type Lattice, mixLattices, nothing, quantiles } from '@/lib/model/lattice'
import type { AdviceGround } from './advice'
import type { JobCost } from './costs'
import { type EventsByLife, eventsByLife } from './inner/events-by-life'
import { LIFE_SHARES } from './supposing'

export const QUARTER_DAYS = 91

/** One vehicle's part in it. */
export interface QuarterVehicle {
  family: string
  site: string | null
  points: EventsByLife[]
}

/** A mean with its 80 % band. */
export interface Band {
  mean: number
  low: number
  high: number
}

export interface Expected {
  failures: Band
  /** Null where not one of the jobs has a price. */
  money: Band | null
}

export interface FleetQuarter {
  vehicles: number
  total: Expected
  points: ({ family: string; weakPoint: string; vehicles: number } & Expected)[]
  /** By site, those without one under null; in the order in which they come. */
  sites: ({ site: string | null; vehicles: number } & Expected)[]
  /** Weak points whose jobs have no price: their failures count, their money cannot be told. */
  withoutPrice: { family: string; weakPoint: string }[]
}

export const quarterVehicle = (
  ground: AdviceGround,
  { family, site }: { family: string; site: string | null },
): QuarterVehicle => ({ family, site, points: eventsByLife(ground, QUARTER_DAYS) })

/** @param vehicles those that could be assessed */
export function fleetQuarter(vehicles: readonly QuarterVehicle[]): FleetQuarter {
  const groups = groupsOf(vehicles)
  const sites = new Map<string | null, QuarterVehicle[]>()
  for (const vehicle of vehicles) sites.set(vehicle.site, [...(sites.get(vehicle.site) ?? []), vehicle])
  return {
    vehicles: vehicles.length,
    total: expectedOf(groups),
    points: groups.map((group) => ({
      family: group.family,
      weakPoint: group.weakPoint,
      vehicles: group.members.length,
      ...expectedOf([group]),
    })),
    sites: [...sites].map(([site, each]) => ({ site, vehicles: each.length, ...expectedOf(groupsOf(each)) })),
    withoutPrice: groups.flatMap((group) =>
      hasPrice(group.cost) ? [] : [{ family: group.family, weakPoint: group.weakPoint }],
    ),
  }
}

/** A weak point of an engine, and the vehicles that have it. */
interface Group {
  family: string
  weakPoint: string
  cost: JobCost
  members: EventsByLife[]
}

function groupsOf(vehicles: readonly QuarterVehicle[]): Group[] {
  const groups = new Map<string, Group>()
  for (const { family, points } of vehicles) {
    for (const point of points) {
      const { weakPoint, cost } = point
      const key = JSON.stringify([family, weakPoint])
      const group = groups.get(key) ?? { family, weakPoint, cost, members: [] }
      groups.set(key, group)
      group.members.push(point)
    }
  }
  return [...groups.values()]
}

const hasPrice = ({ planned, unplanned }: JobCost) => planned > 0 || unplanned > 0

const FAILURES: JobCost = { planned: 0, unplanned: 1 }

function expectedOf(groups: readonly Group[]): Expected {
  const priced = groups.filter(({ cost }) => hasPrice(cost))
  return {
    failures: bandOf(totalOf(groups.map((group) => ({ ...group, cost: FAILURES })))),
    money: priced.length > 0 ? bandOf(totalOf(priced)) : null,
  }
}

const LEVELS = [0.1, 0.9] as const

/** The mean lies within: of a rare event it may be above nine cases in ten. */
function bandOf(total: Lattice): Band {
  const [low, high] = quantiles(total, LEVELS)
  return { mean: total.mean, low: Math.min(low!, total.mean), high: Math.max(high!, total.mean) }
}

/** Chances below this make no difference to a sum that is told. */
const TINY = 1e-10
/** What a sum hardly passes: so many standard deviations above its mean. A lattice up to there has so many points. */
const FAR = 8
const POINTS = 4096

function totalOf(groups: readonly Group[]): Lattice {
  const step = stepOf(groups)
  return groups.reduce((total, group) => {
    const { mass, mean } = groupTotal(group, step)
    const cost = Array.from(mass, (_, i) => i * step)
    const onPoints = cost.reduce((sum, each, i) => sum + each * mass[i]!, 0)
    // Added on its points; what rounding did to the mean is put right.
    const sum = addAmounts(total, { cost, chance: Array.from(mass) }, TINY)
    return { ...sum, mean: sum.mean + mean - onPoints }
  }, nothing(step))
}

/** All vehicles' amounts of one weak point: independent within a fifth, then mixed. */
function groupTotal({ members, cost }: Group, step: number): Lattice {
  const totals = Array.from({ length: LIFE_SHARES }, (_, share) => {
    let mass: Float64Array = Float64Array.of(1)
    let mean = 0
    for (const { byLife } of members) {
      mass = plus(mass, byLife[share]!, cost, step)
      mean += meanOf(byLife[share]!, cost)
    }
    return { step, mass, mean, summed: members.length }
  })
  return mixLattices(totals, Array(LIFE_SHARES).fill(1 / LIFE_SHARES))
}

/** A distribution with one more vehicle's events, each amount on the two points about it: so the mean stays. */
function plus(mass: Float64Array, counts: EventCounts, cost: JobCost, step: number): Float64Array {
  const row = counts.mostDue + 1
  const amount = (i: number) => (Math.floor(i / row) * cost.unplanned + (i % row) * cost.planned) / step
  const far = Math.ceil(amount(counts.chance.length - 1)) + 1
  const sum = new Float64Array(mass.length + far)
  for (let i = 0; i < counts.chance.length; i++) {
    const chance = counts.chance[i]!
    if (chance < TINY * TINY) continue
    const low = Math.floor(amount(i))
    const share = amount(i) - low
    for (let j = 0; j < mass.length; j++) {
      const here = chance * mass[j]!
      sum[j + low] = sum[j + low]! + here * (1 - share)
      if (share > 0) sum[j + low + 1] = sum[j + low + 1]! + here * share
    }
  }
  let last = sum.length - 1
  for (let tail = 0; last > 0 && tail + sum[last]! < TINY * TINY; last--) tail += sum[last]!
  return sum.subarray(0, last + 1)
}

function moments(counts: EventCounts, { planned, unplanned }: JobCost): { mean: number; variance: number } {
  const row = counts.mostDue + 1
  let [mean, square] = [0, 0]
  counts.chance.forEach((chance, i) => {
    const amount = Math.floor(i / row) * unplanned + (i % row) * planned
    mean += chance * amount
    square += chance * amount ** 2
  })
  return { mean, variance: square - mean ** 2 }
}

const meanOf = (counts: EventCounts, cost: JobCost): number => moments(counts, cost).mean

/** Were every life among the shortest, all amounts would be independent. */
function stepOf(groups: readonly Group[]): number {
  let [mean, variance] = [0, 0]
  for (const { members, cost } of groups) {
    for (const { byLife } of members) {
      const own = moments(byLife[0]!, cost)
      mean += own.mean
      variance += own.variance
    }
  }
  return Math.max(1, Math.ceil((mean + FAR * Math.sqrt(variance)) / POINTS))
}

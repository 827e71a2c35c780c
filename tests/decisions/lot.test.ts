/** What several vehicles may cost together: against lots lived vehicle by vehicle, with lives that they share. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { type LotVehicle, lotTotal, pointsByLife } from '@/lib/decisions/lot'
import { setAsideDetail } from '@/lib/decisions/set-aside-detail'
import {
  LIFE_SHARES,
  shortestFirst,
  supposingLife,
  supposingOdds,
  supposingRenewed,
} from '@/lib/decisions/supposing'
import { quantiles } from '@/lib/model/lattice'
import type { Strands } from '@/lib/model/strands'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { usageNodes } from '@/lib/scoring/ahead'
import { engine, followOne, type History, opened, point, repaired } from '../scoring/one-vehicle'
import { type Random, seeded } from '../simulation/random'

const injector = point('injector', 90_000, 180_000, 8_000, { positions: 2, confidence: 'hunch' })
const hose = point('hose', 60_000, 110_000, 2_000, {
  confidence: 'hunch',
  cost: { parts: 40, hours: 0.5, failureExtra: 100, daysOff: 0 },
})
const LIBRARY = engine([injector, hose])
const COVER = { days: 365, km: null }

function groundAt(km: number, history: History = []): AdviceGround {
  const one = followOne(LIBRARY, km, history)
  const prices = pricesOf(LIBRARY, DEFAULT_SETTINGS)
  return {
    ...{ vehicle: one.followed, clock: one.clock, parameters: one.parameters, prices },
    ...{ settings: DEFAULT_SETTINGS, rates: longRunRates(prices) },
  }
}

const grounds = [
  groundAt(60_000),
  groundAt(95_000),
  groundAt(120_000, [[100_000, repaired('hose')]]),
  groundAt(130_000, [[129_000, opened('injector', 'developing', { positions: [2] })]]),
  groundAt(150_000),
  groundAt(180_000, [[179_000, repaired('injector', { positions: [1] })]]),
]
const lot: LotVehicle[] = grounds.map((ground) => ({
  family: 'plover-22',
  points: pointsByLife(ground, { cover: COVER }),
}))

/** The one in whose stretch a place lies, where the stretches follow each other. */
function pickBy(all: readonly number[], lengthOf: (each: number) => number, place: number): number {
  let left = place
  for (const each of all) {
    left -= lengthOf(each)
    if (left <= 0) return each
  }
  return all.at(-1)!
}

const nodeWeights = ({ tables, node, sound, developing }: Strands) => {
  const weight = new Float64Array(tables.count)
  node.forEach((k, i) => {
    weight[k] = weight[k]! + sound[i]! + developing[i]!
  })
  return weight
}

/** One vehicle's cost where each weak point has its place among the lives that are thought possible. */
function live({ vehicle, prices, clock }: AdviceGround, placeOf: (key: string) => number, random: Random) {
  const { belief } = vehicle
  const steps = belief.ageingAhead(usageNodes(clock, { days: COVER.days })[0]!.ahead)
  let cost = 0
  belief.beliefs.forEach((state, c) => {
    const { weakPoint } = state.component
    const { tables, node, age, sound, developing } = state.currentNodes()
    const mass = Array.from(node, (_, i) => sound[i]! + developing[i]!)
    const own = nodeWeights(state.currentNodes())
    const k = pickBy(shortestFirst(tables), (each) => own[each]!, placeOf(weakPoint.key))
    const ofNode = Array.from(node.keys()).filter((i) => node[i] === k)
    const strand = pickBy(ofNode, (i) => mass[i]!, random.uniform() * own[k]!)
    const scale = Math.exp(tables.logScale[k]!)
    const lasts = (from: number, isGoing: boolean) => {
      const warning = random.exponential(1 / tables.failRate[k]!)
      if (isGoing) return warning
      const hazard = (from / scale) ** tables.shape[k]! + random.exponential(1)
      return scale * hazard ** (1 / tables.shape[k]!) - from + warning
    }
    let now = lasts(age[strand]!, random.uniform() * mass[strand]! < developing[strand]!)
    while (now <= steps[c]!) {
      cost += jobCost(weakPoint, prices).unplanned
      now += lasts(0, random.chance(1 - weakPoint.success))
    }
  })
  return cost
}

describe('a lot', () => {
  const total = lotTotal(lot)
  const amounts = quantiles(total, [0.1, 0.5, 0.8, 0.95])

  it('is what lots lived vehicle by vehicle come to, where all share how long their parts last', () => {
    const random = seeded(11)
    const LOTS = 3000
    const sums = Array.from({ length: LOTS }, () => {
      const places = new Map([injector, hose].map(({ key }) => [key, random.uniform()]))
      return grounds.reduce((sum, ground) => sum + live(ground, (key) => places.get(key)!, random), 0)
    }).sort((a, b) => a - b)
    const mean = sums.reduce((a, b) => a + b, 0) / LOTS
    expect(total.mean / mean).toBeGreaterThan(0.96)
    expect(total.mean / mean).toBeLessThan(1.04)
    for (const [i, level] of [0.1, 0.5, 0.8, 0.95].entries()) {
      const upTo = sums.filter((sum) => sum <= amounts[i]! + total.step).length / LOTS
      const below = sums.filter((sum) => sum < amounts[i]! - total.step).length / LOTS
      expect(upTo).toBeGreaterThan(level - 0.025)
      expect(below).toBeLessThan(level + 0.025)
    }
  })

  it('has the sum of the vehicles’ means, and less than the sum of what is enough for each', () => {
    const each = grounds.map((ground) => setAsideDetail(ground, { cover: COVER }).total)
    expect(total.mean / each.reduce((sum, { mean }) => sum + mean, 0)).toBeCloseTo(1, 2)
    const apart = each.reduce((sum, one) => sum + quantiles(one, [0.95])[0]!, 0)
    expect(amounts[3]).toBeLessThan(apart)
  })

  it('is spread wider than if the vehicles had nothing in common', () => {
    const strangers = lotTotal(lot.map((each, i) => ({ ...each, family: `engine ${i}` })))
    expect(strangers.mean).toBeCloseTo(total.mean, 6)
    const [low, , , high] = amounts
    const [lowApart, highApart] = quantiles(strangers, [0.1, 0.95])
    expect(high! - low!).toBeGreaterThan(1.1 * (highApart! - lowApart!))
  })

  it('of one vehicle is that vehicle, and of none is nothing', () => {
    const one = setAsideDetail(grounds[3]!, { cover: COVER }).total
    const alone = lotTotal([lot[3]!])
    for (const [i, amount] of quantiles(alone, [0.5, 0.8, 0.95]).entries())
      expect(Math.abs(amount - quantiles(one, [0.5, 0.8, 0.95])[i]!)).toBeLessThanOrEqual(3)
    expect(lotTotal([])).toMatchObject({ mean: 0, mass: Float64Array.of(1) })
  })
})

describe('a vehicle of which something is supposed', () => {
  const meanOf = (ground: AdviceGround) => setAsideDetail(ground, { cover: COVER }).total.mean

  it('is the vehicle itself on the mean over all lives, and dearer the shorter they are', () => {
    for (const ground of [
      ...grounds,
      groundAt(100_000, [[100_000, opened('injector', 'failed', { positions: [2] })]]),
    ]) {
      const byShare = Array.from({ length: LIFE_SHARES }, (_, share) => meanOf(supposingLife(ground, share)))
      const mean = byShare.reduce((a, b) => a + b, 0) / LIFE_SHARES
      expect(mean / meanOf(ground)).toBeCloseTo(1, 2)
      expect(byShare[0]).toBeGreaterThan(byShare[LIFE_SHARES - 1]!)
    }
  })

  it('costs less with a part replaced, more with higher odds of going, and the same as believed', () => {
    const ground = grounds[3]!
    const count = ground.vehicle.belief.beliefs.length
    expect(meanOf(supposingRenewed(ground, new Set([1])))).toBeLessThan(meanOf(ground))
    expect(meanOf(supposingOdds(ground, Array(count).fill(1)))).toBeCloseTo(meanOf(ground), 9)
    expect(meanOf(supposingOdds(ground, Array(count).fill(3)))).toBeGreaterThan(meanOf(ground))
    expect(meanOf(supposingOdds(ground, Array(count).fill(0)))).toBeLessThan(meanOf(ground))
  })

  it('with everything replaced is as dear as one that has just been repaired', () => {
    const done = groundAt(150_000, [
      [150_000, repaired('injector', { positions: [1, 2] })],
      [150_000, repaired('hose')],
    ])
    expect(meanOf(supposingRenewed(grounds[4]!, new Set([0, 1, 2])))).toBeCloseTo(meanOf(done), 6)
  })
})

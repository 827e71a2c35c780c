/** The most to bid, what a look before it is worth, and what to fix before a sale. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { jobsBeforeSale } from '@/lib/decisions/before-sale'
import { type BidTerms, bidFor, worthAt } from '@/lib/decisions/bid'
import { jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { lookOutcomes } from '@/lib/decisions/look-worth'
import { setAsideDetail } from '@/lib/decisions/set-aside-detail'
import { supposingOdds } from '@/lib/decisions/supposing'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { at, engine, followOne, type History, looked, point, sign } from '../scoring/one-vehicle'
import { seeded } from '../simulation/random'

const pump = point('pump', 90_000, 180_000, 12_000, {
  cost: { parts: 150, hours: 1.5, failureExtra: 2_500, daysOff: 1 },
})
const hose = point('hose', 60_000, 110_000, 6_000, {
  cost: { parts: 40, hours: 0.5, failureExtra: 900, daysOff: 0 },
})
const LIBRARY = engine(
  [pump, hose],
  [
    sign('drip', 'visual', { pump: 0.7, hose: 0.2 }, { leak: 0.05 }),
    sign('damp', 'visual', { hose: 0.6 }, { leak: 0.1 }),
    sign('whine', 'road', { pump: 0.5 }, { leak: 0.02 }),
  ],
)
const COVER = { cover: { days: 365, km: null } }
const TERMS: BidTerms = { retail: 9_000, prep: 400, margin: 1_000, cover: COVER, share: 0.8, price: null }

function groundAt(km: number, history: History = []): AdviceGround {
  const one = followOne(LIBRARY, km, history)
  const prices = pricesOf(LIBRARY, DEFAULT_SETTINGS)
  return {
    ...{ vehicle: one.followed, clock: one.clock, parameters: one.parameters, prices },
    ...{ settings: DEFAULT_SETTINGS, rates: longRunRates(prices) },
  }
}

const ground = groundAt(120_000)
const bid = bidFor(ground, TERMS)

describe('the highest bid', () => {
  it('is the sale less everything, with a band from what is set aside', () => {
    expect(bid.highest).toBe(9_000 - 400 - 1_000 - bid.amount)
    expect(bid.low).toBeLessThanOrEqual(bid.highest)
    expect(bid.high).toBeGreaterThanOrEqual(bid.highest)
    expect(bidFor(ground, { ...TERMS, share: 0.95 }).highest).toBe(bid.low)
    expect(bidFor(ground, { ...TERMS, price: 6_000 }).left).toBeCloseTo(
      9_000 - 400 - 1_000 - 6_000 - bid.mean,
      9,
    )
  })

  it('falls with a sign that was seen, and rises with looks that saw nothing', () => {
    const seen = bidFor(groundAt(120_000, [[119_900, looked('visual', at('drip'))]]), TERMS)
    const clean = bidFor(
      groundAt(120_000, [
        [119_900, looked('visual')],
        [119_900, looked('road')],
      ]),
      TERMS,
    )
    expect(seen.mean).toBeGreaterThan(bid.mean)
    expect(clean.mean).toBeLessThan(bid.mean)
    expect(seen.highest).toBeLessThanOrEqual(bid.highest)
    expect(clean.highest).toBeGreaterThanOrEqual(bid.highest)
    expect(clean.looks).toEqual([])
  })

  it('says what it would be after a look as it then is', () => {
    const visual = bid.looks.find(({ kind }) => kind === 'visual')!
    const clean = bidFor(groundAt(120_000, [[120_000, looked('visual')]]), TERMS)
    expect(visual.ifNothing.bid).toBeCloseTo(clean.highest, -1)
    expect(visual.ifNothing.chance).toBeGreaterThan(0.5)
    expect(visual.ifSeen!.bid).toBeLessThanOrEqual(visual.ifNothing.bid)
  })
})

describe('a look before a bid', () => {
  it('is worth what the whole tree of its outcomes says', () => {
    const { plan } = ground.vehicle.belief
    for (const price of [null, 5_000, 6_400, 7_200, 7_500]) {
      const { looks, mean } = bidFor(ground, { ...TERMS, price })
      for (const { kind, worth } of looks) {
        const signs = plan.lookedForBy[kind]
        const outcomes = lookOutcomes(ground.vehicle, signs, [0, 1])
        expect(outcomes.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9)
        const left = price === null ? mean : 9_000 - 400 - 1_000 - price
        // Every outcome with the vehicle believed anew, and whether it would then be bought.
        const tree = outcomes.reduce((sum, { chance, odds }) => {
          const after = supposingOdds(ground, odds)
          return sum + chance * Math.max(0, left - setAsideDetail(after, COVER).total.mean)
        }, 0)
        expect(worth).toBeGreaterThanOrEqual(0)
        expect(Math.abs(worth - (tree - Math.max(0, left - mean)))).toBeLessThan(0.02 * mean)
      }
    }
    expect(bid.looks[0]!.worth).toBeGreaterThan(0)
  })

  it('is worth nothing where no outcome changes anything, and never less', () => {
    const far = bidFor(ground, { ...TERMS, price: 100 })
    for (const { worth } of far.looks) expect(worth).toBeCloseTo(0, 6)
    const random = seeded(3)
    for (let i = 0; i < 50; i++) {
      const groups = Array.from({ length: 3 }, () => {
        const chances = Array.from({ length: 12 }, () => random.uniform())
        const all = chances.reduce((a, b) => a + b, 0)
        const shifts = chances.map((chance) => ({ chance: chance / all, dearer: 500 * random.normal() }))
        const mean = shifts.reduce((sum, each) => sum + each.chance * each.dearer, 0)
        return shifts.map((each) => ({ ...each, dearer: each.dearer - mean }))
      })
      const slack = 600 * random.normal()
      let exact = -Math.max(0, slack)
      for (const a of groups[0]!)
        for (const b of groups[1]!)
          for (const c of groups[2]!)
            exact += a.chance * b.chance * c.chance * Math.max(0, slack - a.dearer - b.dearer - c.dearer)
      const worth = worthAt(slack, groups)
      expect(worth).toBeGreaterThanOrEqual(0)
      expect(worth).toBeLessThanOrEqual(exact + 1e-9)
      expect(worth).toBeGreaterThan(exact - 5)
    }
  })
})

describe('before a sale', () => {
  it('a job brings what the cover then costs less, less its price, in a band', () => {
    const worn = groundAt(170_000, [[169_900, looked('visual', at('drip'))]])
    const jobs = jobsBeforeSale(worn, COVER)
    expect(jobs.length).toBeGreaterThan(0)
    const prices = pricesOf(LIBRARY, DEFAULT_SETTINGS)
    for (const { weakPoint, fall, fallBand, cost, gain, gainBand } of jobs) {
      const { weakPoint: known } = worn.vehicle.belief.plan.components.find(
        (c) => c.weakPoint.key === weakPoint,
      )!
      expect(cost).toBe(jobCost(known, prices).planned)
      expect(gain).toBeCloseTo(fall - cost, 9)
      expect(fallBand.low).toBeLessThanOrEqual(fall)
      expect(fallBand.high).toBeGreaterThanOrEqual(fall)
      expect(gainBand.low).toBeCloseTo(fallBand.low - cost, 9)
    }
    expect(jobs[0]!.weakPoint).toBe('pump')
    expect(jobs.map(({ gain }) => gain)).toEqual(jobs.map(({ gain }) => gain).sort((a, b) => b - a))
    expect(jobsBeforeSale(worn, { ...COVER, excluded: new Set(['pump', 'hose']) })).toEqual([])
  })
})

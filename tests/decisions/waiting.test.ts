/** What a job costs, what a kilometre costs in the long run, and what leaving a part until later costs. */
import { describe, expect, it } from 'vitest'
import { jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { bandOfLeaving, leastLoss, leaveUntil, lossOfLeaving } from '@/lib/decisions/waiting'
import { ageReplacement } from '@/lib/model/age-replacement'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { statedParameters } from '@/lib/scoring/parameters'
import { engine, followOne, opened, point } from '../scoring/one-vehicle'

const cost = { parts: 300, hours: 2, sharedHours: 1, failureExtra: 700, daysOff: 3 }
const library = {
  ...engine([point('pump', 90_000, 150_000, 6_000, { cost, variants: { early: { lifeFactor: 0.5 } } })], [], {
    variants: [{ key: 'early' }, { key: 'late' }],
  }),
  visit: 60,
}
const [family] = library.families
const pump = family!.weakPoints[0]!
const prices = pricesOf(library, DEFAULT_SETTINGS)

describe('prices', () => {
  it('are the library’s where the organisation has said nothing', () => {
    expect(prices).toEqual({
      labourRate: 80,
      dayOffRoad: 120,
      visit: 60,
      slotDays: 14,
      lookHours: { scan: 0.3, visual: 0.2, road: 0.4, measure: 0.8 },
    })
  })

  it('are the organisation’s own first, an own zero included', () => {
    const own = { ...DEFAULT_SETTINGS, labourRate: 0, slotDays: 7, looks: { scan: { hours: 1 } } }
    const found = pricesOf(library, own)
    expect(found).toMatchObject({ labourRate: 0, dayOffRoad: 120, slotDays: 7 })
    expect(found.lookHours).toEqual({ scan: 1, visual: 0.2, road: 0.4, measure: 0.8 })
  })
})

describe('a job', () => {
  it('costs parts and hours when planned, and damage and days off the road besides when not', () => {
    expect(jobCost(pump, prices)).toEqual({ planned: 460, unplanned: 460 + 700 + 360 })
  })
})

describe('the long-run rate', () => {
  it('is that of the best replacement age, for the variant of the vehicle', () => {
    const rates = longRunRates(prices)
    const parameters = statedParameters(family!)
    for (const variant of ['early', 'late'] as const) {
      const life = parameters.original(pump, variant)
      const best = ageReplacement(life, 460, 1_520)
      if (!best.ok) throw new Error(best.reason)
      expect(rates(pump, variant, parameters)).toBeCloseTo(best.gStar, 12)
    }
    expect(rates(pump, 'early', parameters)).toBeGreaterThan(1.8 * rates(pump, 'late', parameters))
  })

  it('is 0 for a job without a price', () => {
    const free = engine([point('pump', 90_000, 150_000, 6_000, { cost: { parts: 0, hours: 0 } })])
      .families[0]!
    expect(longRunRates(prices)(free.weakPoints[0]!, null, statedParameters(free))).toBe(0)
  })
})

describe('leaving a part', () => {
  const steps = [1_000, 4_000, 16_000, 64_000]
  const job = jobCost(pump, prices)
  const strands = followOne(library, 120_000, []).of('pump').currentNodes()

  it('costs L(τ) − C_p: the failures on the way, less what the distance is worth in the long run', () => {
    const leaving = leaveUntil(strands, steps)
    const rate = 0.004
    steps.forEach((_, m) => {
      const fails = leaving.failsSound[m]! + leaving.failsDeveloping[m]!
      const units = leaving.unitsSound[m]! + leaving.unitsDeveloping[m]!
      expect(lossOfLeaving(leaving, m, job, rate)).toBeCloseTo(fails * 1_060 - rate * units, 9)
    })
    expect(leastLoss(leaving, job, rate)).toBeCloseTo(
      Math.min(...steps.map((_, m) => lossOfLeaving(leaving, m, job, rate))),
      12,
    )
  })

  it('drives on until then or until failure: never farther, and all the way where nothing fails', () => {
    const leaving = leaveUntil(strands, steps)
    steps.forEach((step, m) => {
      const units = leaving.unitsSound[m]! + leaving.unitsDeveloping[m]!
      expect(units).toBeLessThan(step)
      expect(units).toBeGreaterThan(step * (1 - leaving.failsSound[m]! - leaving.failsDeveloping[m]!))
    })
  })

  it('of a defect that is known follows the exponential distance to failure', () => {
    const going = followOne(library, 120_000, [[120_000, opened('pump', 'developing')]], { central: true })
    const mean = 6_000 / Math.LN2
    const leaving = leaveUntil(going.of('pump').currentNodes(), [500, 2_000])
    ;[500, 2_000].forEach((step, m) => {
      expect(leaving.failsDeveloping[m]).toBeCloseTo(-Math.expm1(-step / mean), 9)
      expect(leaving.unitsDeveloping[m]! / (-mean * Math.expm1(-step / mean))).toBeCloseTo(1, 6)
    })
    expect(leaving.failsSound[0]).toBe(0)
  })

  it('has a band: as wide as the nodes differ, with the mean in it; none where one life is the only one', () => {
    const alone = strands.node.map((node) => {
      const keep = (masses: Float64Array) => masses.map((mass, i) => (strands.node[i] === node ? mass : 0))
      const only = { ...strands, sound: keep(strands.sound), developing: keep(strands.developing) }
      return lossOfLeaving(leaveUntil(only, steps), 1, job, 0.004) // divides by the masses that are left
    })
    const share = (isBelow: (loss: number) => boolean) =>
      strands.node.reduce(
        (sum, _, i) => sum + (isBelow(alone[i]!) ? strands.sound[i]! + strands.developing[i]! : 0),
        0,
      )
    const { low, high } = bandOfLeaving(strands, steps[1]!, job, 0.004)
    expect(share((loss) => loss < low)).toBeCloseTo(0.1, 1)
    expect(share((loss) => loss > high)).toBeCloseTo(0.1, 1)
    const mean = lossOfLeaving(leaveUntil(strands, steps), 1, job, 0.004)
    expect([low < mean, mean < high]).toEqual([true, true])

    const plain = engine([point('pump', 90_000, 150_000, 6_000, { cost })])
    const { central } = followOne(plain, 120_000, []).of('pump')
    const sure = bandOfLeaving(central, steps[1]!, job, 0.004)
    expect(sure.low).toBeCloseTo(sure.high, 9)
  })

  it('is re-weighed by the odds that an outcome gives: all sound, all going, and as it is', () => {
    const leaving = leaveUntil(strands, steps)
    const at = (lambda: number) => lossOfLeaving(leaving, 1, job, 0.004, lambda)
    expect(at(0)).toBeLessThan(at(1))
    expect(at(1)).toBeLessThan(at(1e9))
    const share = leaving.developing / (leaving.sound + leaving.developing)
    expect((1 - share) * at(0) + share * at(1e12)).toBeCloseTo(at(1), 6)
  })

  it('whose state is certain stays a number at any odds', () => {
    const going = followOne(library, 120_000, [[120_000, opened('pump', 'developing')]], { central: true })
    const leaving = leaveUntil(going.of('pump').central, steps)
    for (const lambda of [0, 1, 1e9]) expect(lossOfLeaving(leaving, 0, job, 0.004, lambda)).not.toBeNaN()
  })
})

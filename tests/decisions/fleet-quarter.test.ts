/** The coming quarter of a fleet: against fleets that are lived through, and what must hold whatever the library says. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { longRunRates, pricesOf } from '@/lib/decisions/costs'
import { fleetQuarter, QUARTER_DAYS, quarterVehicle } from '@/lib/decisions/fleet-quarter'
import { setAside } from '@/lib/decisions/set-aside'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Usage } from '@/lib/records/usage'
import { runs } from '../runs'
import { engine, followOne, KM_PER_DAY, point } from '../scoring/one-vehicle'
import { seeded } from '../simulation/random'
import { liveOnce } from './lived-once'

const free = { parts: 0, hours: 0, failureExtra: 0, daysOff: 0 }
const library = engine([
  point('injector', 90_000, 180_000, 8_000, { positions: 4, confidence: 'hunch' }),
  point('hose', 15_000, 30_000, 2_000, {
    confidence: 'hunch',
    cost: { parts: 40, hours: 0.5, failureExtra: 100, daysOff: 0 },
  }),
  point('filter', 50_000, 90_000, 0, { renewEvery: 20_000 }),
])
const UNSURE: Usage = { kmPerDay: KM_PER_DAY, logSd: 0.2, standing: false, basis: 'readings' }

function groundOf(km: number, of = library): AdviceGround {
  const one = followOne(of, km, [], { usage: UNSURE })
  const prices = pricesOf(of, DEFAULT_SETTINGS)
  return {
    ...{ vehicle: one.followed, clock: one.clock, parameters: one.parameters, prices },
    ...{ settings: DEFAULT_SETTINGS, rates: longRunRates(prices) },
  }
}

const grounds = Array.from({ length: 14 }, (_, i) => groundOf(40_000 + 9_500 * i))
const vehicles = grounds.map((ground, i) =>
  quarterVehicle(ground, { family: 'plover-22', site: i % 3 === 0 ? 'north' : null }),
)

describe('the coming quarter', () => {
  const quarter = fleetQuarter(vehicles)

  it('is what fleets come to that are lived through, each with one truth for all of its vehicles', () => {
    const random = seeded(9)
    const fleets = runs(600)
    const lived = Array.from({ length: fleets }, () => {
      const places = new Map<string, number>()
      // Where the truth lies among the lives that are thought possible, for every vehicle alike.
      const placeOf = (weakPoint: string) => {
        const place = places.get(weakPoint) ?? random.uniform()
        places.set(weakPoint, place)
        return place
      }
      const all = grounds.map((ground) => liveOnce(ground, QUARTER_DAYS, random, placeOf))
      return {
        failures: all.reduce((sum, each) => sum + each.failures, 0),
        money: all.reduce((sum, each) => sum + each.cost, 0),
      }
    })
    for (const of of ['failures', 'money'] as const) {
      const values = lived.map((each) => each[of]).sort((a, b) => a - b)
      const { mean, low, high } = quarter.total[of]!
      expect(mean / (values.reduce((a, b) => a + b, 0) / fleets)).toBeCloseTo(1, 1)
      const share = (upTo: number) => values.filter((value) => value <= upTo).length / fleets
      const slack = of === 'failures' ? 0.5 : 20
      expect(share(low + slack)).toBeGreaterThan(0.07)
      expect(share(low - slack)).toBeLessThan(0.13)
      expect(share(high + slack)).toBeGreaterThan(0.87)
      expect(share(high - slack)).toBeLessThan(0.93)
    }
  })

  it('is on the mean the sum of what is set aside for each vehicle over the same days', () => {
    const cover = { days: QUARTER_DAYS, km: null }
    const sum = grounds.reduce((total, ground) => total + setAside(ground, { cover }).mean, 0)
    expect(quarter.total.money!.mean / sum).toBeCloseTo(1, 3)
  })

  it('has weak points and sites that sum to the whole, and a band wider than if vehicles shared nothing', () => {
    const sum = (rows: readonly { failures: { mean: number }; money: { mean: number } | null }[]) =>
      rows.reduce((total, row) => [total[0]! + row.failures.mean, total[1]! + row.money!.mean], [0, 0])
    for (const rows of [quarter.points, quarter.sites]) {
      const [failures, money] = sum(rows)
      expect(failures).toBeCloseTo(quarter.total.failures.mean, 6)
      expect(money! / quarter.total.money!.mean).toBeCloseTo(1, 6)
    }
    expect(quarter.sites.map(({ site, vehicles: n }) => [site, n])).toEqual([
      ['north', 5],
      [null, 9],
    ])
    const apart = fleetQuarter(vehicles.map((vehicle, i) => ({ ...vehicle, family: `engine ${i}` })))
    const width = ({ total: { failures } }: typeof quarter) => failures.high - failures.low
    expect(apart.total.failures.mean).toBeCloseTo(quarter.total.failures.mean, 6)
    expect(width(quarter)).toBeGreaterThan(width(apart))
  })

  it('tells failures where a job has no price, and which jobs lack one', () => {
    const unpriced = engine([
      point('injector', 90_000, 180_000, 8_000, { cost: free }),
      point('hose', 15_000, 30_000, 2_000),
    ])
    const two = [groundOf(150_000, unpriced), groundOf(160_000, unpriced)]
    const some = fleetQuarter(two.map((ground) => quarterVehicle(ground, { family: 'p', site: null })))
    expect(some.withoutPrice).toEqual([{ family: 'p', weakPoint: 'injector' }])
    const [injector, hose] = some.points
    expect(injector!.failures.mean).toBeGreaterThan(0)
    expect(injector!.money).toBeNull()
    expect(some.total.money).toEqual(hose!.money)
  })

  it('is nothing where there is no vehicle', () => {
    expect(fleetQuarter([])).toMatchObject({
      vehicles: 0,
      total: { failures: { mean: 0, low: 0, high: 0 }, money: null },
    })
  })
})

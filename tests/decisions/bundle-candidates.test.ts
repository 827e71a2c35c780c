/** The jobs that a vehicle offers for one visit: what each saves, and what never comes into a bundle. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { chooseBundle } from '@/lib/decisions/bundle'
import { bundleCandidates } from '@/lib/decisions/bundle-candidates'
import { longRunRates, pricesOf } from '@/lib/decisions/costs'
import { upstreamDamage } from '@/lib/decisions/upstream-damage'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Usage } from '@/lib/records/usage'
import { engine, followOne, type History, opened, point, repaired } from '../scoring/one-vehicle'

function groundOf(library: ReturnType<typeof engine>, km: number, history: History, usage?: Usage) {
  const one = followOne(library, km, history, usage ? { usage } : {})
  const settings = DEFAULT_SETTINGS
  const prices = pricesOf({ ...library, visit: 60 }, settings)
  const ground: AdviceGround = {
    vehicle: one.followed,
    clock: one.clock,
    parameters: one.parameters,
    prices,
    settings,
    rates: longRunRates(prices),
  }
  return { one, ground, prices }
}

const cost = { parts: 180, hours: 1.5, sharedHours: 1, failureExtra: 600, daysOff: 2 }
const injector = point('injector', 90_000, 180_000, 8_000, {
  positions: 4,
  cost,
  access: 'rail',
  asASet: true,
})

describe('jobs for one visit', () => {
  it('are due where a defect is known, with a band about what doing it gains', () => {
    const { one, ground } = groundOf(engine([injector]), 150_000, [
      [149_000, opened('injector', 'developing', { positions: [3] })],
    ])
    const third = bundleCandidates(ground).find(({ position }) => position === 3)!
    expect(third.due).toBe(true)
    expect(third.gain).toBeGreaterThan(0)
    expect(third.gainBand.low).toBeLessThan(third.gain)
    expect(third.gainBand.high).toBeGreaterThan(third.gain)
    expect(one.developing('injector', 3)).toBeGreaterThan(0.5)
  })

  it('never bring a sound, lately renewed part into a bundle, at any odometer', () => {
    for (const km of [60_000, 120_000, 160_000, 200_000, 260_000]) {
      const { ground, prices } = groundOf(engine([injector]), km, [
        [km - 1_000, repaired('injector', { positions: [1, 2, 4], found: 'sound', because: 'schedule' })],
        [km - 200, opened('injector', 'developing', { positions: [3] })],
      ])
      for (const visit of [0, 60, 500, 5_000]) {
        const bundle = chooseBundle(bundleCandidates(ground), { ...prices, visit })
        expect(bundle?.members.map(({ position }) => position)).toEqual([3])
      }
    }
  })

  it('cost what is left of a part in a vehicle that stands, or is hardly used, as well', () => {
    const standing: Usage = { kmPerDay: 0, logSd: 0, standing: true, basis: 'readings' }
    const history: History = [
      [100_000, repaired('injector', { positions: [1, 2, 4], because: 'schedule' })],
      [120_000, opened('injector', 'failed', { positions: [3] })],
    ]
    for (const usage of [standing, { ...standing, kmPerDay: 2, standing: false }]) {
      const { ground, prices } = groundOf(engine([injector]), 120_000, history, usage)
      const candidates = bundleCandidates(ground)
      for (const { position, gain, cost } of candidates)
        if (position !== 3) expect(gain).toBeLessThan(-0.4 * cost)
      expect(chooseBundle(candidates, prices)?.members.map(({ position }) => position)).toEqual([3])
    }
  })

  it('make the same visit where those that cannot pay are left out at once', () => {
    let leftOut = 0
    for (const km of [60_000, 120_000, 160_000, 200_000, 260_000]) {
      const { ground, prices } = groundOf(engine([injector]), km, [
        [km - 30_000, repaired('injector', { positions: [1], because: 'schedule' })],
        [km - 200, opened('injector', 'developing', { positions: [3] })],
      ])
      const all = bundleCandidates(ground)
      for (const visit of [0, 60, 500, 5_000]) {
        const terms = { ...prices, visit }
        const paying = bundleCandidates(ground, terms)
        expect(chooseBundle(paying, terms)).toEqual(chooseBundle(all, terms))
        leftOut += all.length - paying.length
      }
    }
    expect(leftOut).toBeGreaterThan(5)
  })

  it('are none while nothing is due', () => {
    const { ground } = groundOf(engine([injector]), 30_000, [])
    expect(bundleCandidates(ground)).toEqual([])
  })

  it('count what a leak does to the part below it: (k − 1) · P · Δkm · g*', () => {
    const library = engine(
      [point('seep', 100_000, 170_000, 20_000), point('gasket', 90_000, 150_000, 6_000)],
      [],
      { upstream: [{ from: 'seep', to: 'gasket', strength: 3 }] },
    )
    const { one, ground, prices } = groundOf(library, 100_000, [[99_000, opened('seep', 'developing')]])
    const gasket = library.families[0]!.weakPoints[1]!
    const rate = longRunRates(prices)(gasket, null, one.parameters)
    const expected = 2 * one.developing('seep') * 14 * 60 * rate
    expect(expected).toBeGreaterThan(1)
    expect(upstreamDamage(ground, 14)[one.indexOf('seep')]).toBeCloseTo(expected, 9)
    expect(upstreamDamage(ground, 14)[one.indexOf('gasket')]).toBe(0)
  })

  it('are due where the part has failed, worth the days off the road', () => {
    const { ground } = groundOf(engine([injector]), 100_000, [
      [100_000, opened('injector', 'failed', { positions: [2] })],
    ])
    expect(bundleCandidates(ground).find(({ position }) => position === 2)).toMatchObject({
      due: true,
      gain: 14 * 120,
    })
  })
})

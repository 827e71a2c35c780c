/** What a defect upstream does to the age below it. */
import { describe, expect, it } from 'vitest'
import { expectedSinceOnset } from '@/lib/scoring/exposure'
import { at, engine, followOne, type History, looked, opened, point, repaired, sign } from './one-vehicle'

const STRENGTH = 3
const plover = (strength: number, more: { seep?: object; gasket?: object } = {}) =>
  engine(
    [
      point('gasket', 120_000, 200_000, 6_000, more.gasket),
      point('seep', 80_000, 140_000, 60_000, more.seep),
    ],
    [sign('oil', 'visual', { seep: 0.9 }, { leak: 0.01 })],
    { upstream: [{ from: 'seep', to: 'gasket', strength }] },
  )
const library = plover(STRENGTH)
const follow = (asOfKm: number, history: History, own = library, duty: 'mixed' | 'short' = 'mixed') =>
  followOne(own, asOfKm, history, { central: true, vehicle: { duty } })
const gasketAge = (...asked: Parameters<typeof follow>) => follow(...asked).of('gasket').central.age[0]!

const oily: History = [60_000, 63_000, 66_000].map((km) => [km, looked('visual', at('oil'))] as const)
const leaks: History = [[66_000, opened('seep', 'developing')]]
const tight: History = [[66_000, opened('seep', 'sound')]]

describe('the expected distance since an onset', () => {
  it('grows by the whole step for what was there and by half of it for what is new', () => {
    expect(expectedSinceOnset(5_000, 1_000, 0.4, 0)).toBe(6_000)
    expect(expectedSinceOnset(5_000, 1_000, 0, 0.1)).toBe(500)
    expect(expectedSinceOnset(5_000, 1_000, 0.3, 0.1)).toBeCloseTo((0.3 * 6_000 + 0.1 * 500) / 0.4, 9)
    expect(expectedSinceOnset(5_000, 1_000, 0, 0)).toBe(0)
  })
})

describe('a part below a defect', () => {
  it('ages at its own pace while the defect is unlikely, and at k times that while it is certain', () => {
    expect(gasketAge(6_000, [])).toBeCloseTo(6_000, -2)
    const [then, later] = [66_000, 76_200].map((km) => gasketAge(km, leaks))
    expect((later! - then!) / 10_200).toBeCloseTo(STRENGTH, 2)
  })

  it('grows older by a sighting of the defect, and young again by a finding that nothing leaks', () => {
    const [quiet, suspected, cleared] = [[], oily, [...oily, ...tight]].map((h) => gasketAge(66_000, h))
    expect(suspected).toBeGreaterThan(quiet! + 1_000)
    expect(cleared).toBeLessThan(quiet!)
    expect(cleared).toBeCloseTo(66_000, -2)
  })

  it('never ages slower than a fifth of its pace', () => {
    const ages = [66_000, 66_600, 67_200, 70_200].map((km) => gasketAge(km, [...oily, ...tight]))
    for (let i = 1; i < ages.length; i++) expect(ages[i]!).toBeGreaterThan(ages[i - 1]!)
    expect(ages[1]! - ages[0]!).toBeGreaterThanOrEqual(0.2 * 600 - 1e-6)
  })

  it('keeps what a defect did that was dealt with, and ages at its own pace from then on', () => {
    const dealt: History = [...leaks, [76_200, repaired('seep')]]
    const [at76, at86] = [76_200, 86_400].map((km) => gasketAge(km, dealt))
    expect(at76).toBeCloseTo(gasketAge(76_200, leaks), -2)
    expect((at86! - at76!) / 10_200).toBeGreaterThan(0.99)
    expect((at86! - at76!) / 10_200).toBeLessThan(1.15)
  })

  it('that is renewed itself begins at age 0, whatever turns out upstream on that day', () => {
    const renewed = [66_000, repaired('gasket')] as const
    for (const found of [leaks, tight]) {
      expect(gasketAge(66_000, [...oily, renewed])).toBeCloseTo(0, 6)
      expect(gasketAge(66_000, [...oily, ...found, renewed])).toBeCloseTo(0, 6)
    }
    const later = gasketAge(69_000, [...oily, ...tight, renewed])
    expect(later).toBeGreaterThan(0.99 * 3_000)
    expect(later).toBeLessThan(1.2 * 3_000)
  })

  it('suffers from a failed defect as from a developing one', () => {
    const failed: History = [[66_000, opened('seep', 'failed')]]
    expect(gasketAge(72_000, failed) - gasketAge(66_000, failed)).toBeCloseTo(STRENGTH * 6_000, -2)
  })

  it('ages by its own duty, upstream and all', () => {
    const short = plover(STRENGTH, { gasket: { duty: { short: 1.5 } } })
    const [then, later] = [66_000, 72_000].map((km) => gasketAge(km, leaks, short, 'short'))
    expect(later! - then!).toBeCloseTo(1.5 * STRENGTH * 6_000, -2)
  })

  it('is not touched by a link of strength 1', () => {
    expect(gasketAge(72_000, leaks, plover(1))).toBeCloseTo(72_000, 6)
  })
})

describe('a horizon', () => {
  const ahead = (one: ReturnType<typeof follow>, km: number) =>
    one.belief.ageingAhead({ distance: km, hours: 0, time: km / 60 })[one.indexOf('gasket')]!

  it('is lived through at k times the pace below a defect that is certain', () => {
    expect(ahead(follow(66_000, leaks), 5_000)).toBeCloseTo(STRENGTH * 5_000, -1)
  })

  it('has the defect come up in it where there is none yet', () => {
    const one = follow(66_000, [...oily, ...tight])
    expect(ahead(one, 1_000)).toBeLessThan(1.05 * 1_000)
    expect(ahead(one, 60_000)).toBeGreaterThan(1.15 * 60_000)
    expect(ahead(one, 60_000)).toBeLessThan(STRENGTH * 60_000)
  })
})

describe('positions of two linked parts', () => {
  it('meet by number where they have as many, and all of them where not', () => {
    const four = { positions: 4 }
    const paired = plover(STRENGTH, { seep: four, gasket: four })
    const fanned = plover(STRENGTH, { gasket: four })
    const third: History = [[66_000, opened('seep', 'developing', { positions: [3] })]]
    const agesOf = (own: typeof library, history: History) => {
      const one = follow(72_000, history, own)
      return [1, 2, 3, 4].map((p) => one.of('gasket', p).central.age[0]! - 72_000 > 9_000)
    }
    expect(agesOf(paired, third)).toEqual([false, false, true, false])
    expect(agesOf(fanned, leaks)).toEqual([true, true, true, true])
  })
})

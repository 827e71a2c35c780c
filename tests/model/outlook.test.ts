import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lifeTables } from '@/lib/model/life-table'
import { failChance, failChanceByNode, medianRemaining, weightedQuantiles } from '@/lib/model/outlook'
import { makeStrands } from '@/lib/model/strands'
import { propagate } from '@/lib/model/two-stage'
import { runs } from '../runs'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp)
const share = fc.double({ min: 0, max: 1, noNaN: true })
const lives = fc.record({
  shape: between(0.5, 10),
  scale: fc.constant(100_000),
  pfMean: fc.oneof(fc.constant(0), between(500, 1e6)),
})
type Life = { shape: number; scale: number; pfMean: number }
const life = (l: Life, age: number, p: number) =>
  makeStrands(lifeTables([l], [1]), [{ node: 0, age, sound: 1 - p, developing: p }])

describe('the chance of failing within a step', () => {
  it('is that of the integrals, for long steps and short', () => {
    fc.assert(
      fc.property(lives, between(1, 3e5), between(1, 1e5), share, (l, age, step, p) => {
        const exact = propagate(p, age, age + step, l).fails
        expect(failChance(life(l, age, p), step)).toBeCloseTo(exact, l.shape < 5 ? 4 : 3)
      }),
      { numRuns: runs(300), seed: 6 },
    )
  })

  it('keeps six digits for the shapes that parts have', () => {
    const usual = fc.record({
      shape: between(1, 4),
      scale: fc.constant(100_000),
      pfMean: fc.oneof(fc.constant(0), between(500, 1e6)),
    })
    fc.assert(
      fc.property(usual, between(1, 3e5), between(1, 1e5), share, (l, age, step, p) => {
        const exact = propagate(p, age, age + step, l).fails
        expect(Math.abs(failChance(life(l, age, p), step) - exact)).toBeLessThan(2e-6)
      }),
      { numRuns: runs(300), seed: 16 },
    )
  })

  it('is that of the integrals where a step is short against a long warning and sees most onsets begin', () => {
    const l = { shape: 6.44, scale: 100_000, pfMean: 970_000 }
    const exact = propagate(0, 64_800, 64_800 + 90_800, l).fails
    expect(failChance(life(l, 64_800, 0), 90_800)).toBeCloseTo(exact, 8)
  })

  it('keeps its digits where it is small', () => {
    const l = { shape: 3, scale: 100_000, pfMean: 10_000 }
    for (const step of [1, 30, 900]) {
      const exact = propagate(0, 20_000, 20_000 + step, l).fails
      expect(failChance(life(l, 20_000, 0), step) / exact).toBeCloseTo(1, 4)
    }
  })

  it('is a number for steps so short that the onsets in them are lost in rounding', () => {
    fc.assert(
      fc.property(lives, between(1e3, 3e5), between(1e-12, 1e-3), (l, age, step) => {
        const strands = life(l, age, 0)
        strands.onset[0] = strands.onset[0]! * (1 + 1e-15)
        expect(failChance(strands, step)).toBeGreaterThanOrEqual(0)
      }),
      { numRuns: runs(300), seed: 17 },
    )
  })

  it('lies between 0 and 1 and grows with the step', () => {
    fc.assert(
      fc.property(lives, between(1, 1.9e6), between(1, 1e5), share, (l, age, step, p) => {
        const [near, far] = [failChance(life(l, age, p), step), failChance(life(l, age, p), 1.5 * step)]
        expect(near).toBeGreaterThanOrEqual(0)
        expect(far).toBeGreaterThanOrEqual(near - 1e-6)
        expect(far).toBeLessThanOrEqual(1 + 1e-12)
      }),
      { numRuns: runs(300), seed: 7 },
    )
  })

  it('is 0 within nothing', () => {
    expect(failChance(life({ shape: 3, scale: 1_000, pfMean: 50 }, 400, 0.5), 0)).toBe(0)
  })

  it('by node sums to the whole', () => {
    const tables = lifeTables(
      [
        { shape: 3, scale: 1_000, pfMean: 50 },
        { shape: 2, scale: 2_000, pfMean: 80 },
      ],
      [0.4, 0.6],
    )
    const strands = makeStrands(tables, [
      { node: 0, age: 100, sound: 0.2, developing: 0.1 },
      { node: 0, age: 900, sound: 0.1, developing: 0 },
      { node: 1, age: 300, sound: 0.5, developing: 0.1 },
    ])
    const [mass, failing] = [new Float64Array(2), new Float64Array(2)]
    failChanceByNode(strands, 120, mass, failing)
    expect(mass[0]).toBeCloseTo(0.4, 12)
    expect(mass[1]).toBeCloseTo(0.6, 12)
    expect(failing[0]! + failing[1]!).toBeCloseTo(failChance(strands, 120), 12)
  })
})

describe('the median distance left', () => {
  it('is that within which the chance is one half', () => {
    fc.assert(
      fc.property(lives, between(1, 5e5), share, (l, age, p) => {
        // Without warning nothing is ever developing.
        const strands = life(l, age, l.pfMean > 0 ? p : 0)
        expect(failChance(strands, medianRemaining(strands))).toBeCloseTo(0.5, 4)
      }),
      { numRuns: runs(200), seed: 8 },
    )
  })

  it('of a defect that is known is ln 2 of the mean warning', () => {
    const strands = life({ shape: 3, scale: 100_000, pfMean: 5_000 }, 60_000, 1)
    expect(medianRemaining(strands)).toBeCloseTo(5_000 * Math.LN2, 0)
  })

  it('of a part that this vehicle may not have is beyond all distance', () => {
    const strands = life({ shape: 3, scale: Number.POSITIVE_INFINITY, pfMean: 5_000 }, 60_000, 0)
    expect(medianRemaining(strands)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('weighted quantiles', () => {
  const of = (values: number[], weights: number[], shares: number[]) =>
    weightedQuantiles(Float64Array.from(values), Float64Array.from(weights), shares)

  it('take the weight at mid-step, linear between, flat outside', () => {
    expect(of([10, 20], [1, 1], [0.1, 0.25, 0.5, 0.75, 0.9])).toEqual([10, 10, 15, 20, 20])
    expect(of([20, 10], [3, 1], [0.5])[0]).toBeCloseTo(10 + (10 * (0.5 - 0.125)) / (0.625 - 0.125), 12)
  })

  it('do not see what has no weight', () => {
    expect(of([5, 10, 99], [0, 1, 0], [0.1, 0.9])).toEqual([10, 10])
  })
})

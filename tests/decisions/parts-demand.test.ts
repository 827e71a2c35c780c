/** How many parts: against every combination of failures, and for a large fleet. */
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { partsDemand } from '@/lib/decisions/parts-demand'
import { enoughFor, poissonBinomial } from '@/lib/model/poisson-binomial'

const someChances = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 })

/** P(so many), by all 2ⁿ ways. */
function byEnumeration(chances: number[]): number[] {
  const counts = new Array<number>(chances.length + 1).fill(0)
  for (let set = 0; set < 1 << chances.length; set++) {
    let [p, heads] = [1, 0]
    chances.forEach((each, i) => {
      const isHead = (set & (1 << i)) !== 0
      p *= isHead ? each : 1 - each
      if (isHead) heads++
    })
    counts[heads] = counts[heads]! + p
  }
  return counts
}

describe('how many of several events happen', () => {
  it('is as by going through all of them', () => {
    fc.assert(
      fc.property(someChances, (chances) => {
        const { offset, chance } = poissonBinomial(chances)
        byEnumeration(chances).forEach((p, n) => {
          expect(chance[n - offset] ?? 0).toBeCloseTo(p, 12)
        })
      }),
    )
  })

  it('is enough with the least number that is enough', () => {
    fc.assert(
      fc.property(someChances, fc.constantFrom(0.5, 0.9, 0.95, 0.999), (chances, level) => {
        const found = enoughFor(poissonBinomial(chances), level)
        const upTo = (n: number) =>
          byEnumeration(chances)
            .slice(0, n + 1)
            .reduce((a, b) => a + b, 0)
        expect(upTo(found)).toBeGreaterThanOrEqual(level - 1e-9)
        if (found > 0) expect(upTo(found - 1)).toBeLessThan(level + 1e-9)
      }),
    )
  })

  it('keeps mean, variance and mass over 20,000 events', () => {
    const chances = Float64Array.from({ length: 20_000 }, (_, i) => 0.001 + 0.4 * ((i * 7919) % 1000) * 1e-3)
    const { offset, chance } = poissonBinomial(chances)
    const moment = (f: (n: number) => number) => chance.reduce((sum, p, i) => sum + p * f(offset + i), 0)
    const mean = chances.reduce((a, b) => a + b, 0)
    const variance = chances.reduce((sum, p) => sum + p * (1 - p), 0)
    expect(moment(() => 1)).toBeCloseTo(1, 10)
    expect(moment((n) => n) / mean).toBeCloseTo(1, 10)
    expect(moment((n) => (n - mean) ** 2) / variance).toBeCloseTo(1, 8)
  })
})

describe('parts for the coming weeks', () => {
  it('are what failures and planned jobs take, by part', () => {
    const demand = partsDemand([
      { part: 'INJ', chance: 1 },
      { part: 'INJ', chance: 0.5 },
      { part: 'BELT', chance: 0.01 },
    ])
    expect(demand).toEqual([
      { part: 'BELT', mean: 0.01, p90: 0, p95: 0, toOrder: 0 },
      { part: 'INJ', mean: 1.5, p90: 2, p95: 2, toOrder: 2 },
    ])
  })

  it('are ordered less what is there and on its way, and never fewer than none', () => {
    const needs = Array.from({ length: 3 }, () => ({ part: 'INJ', chance: 1 }))
    const toOrder = (hand: number, way: number) =>
      partsDemand(needs, { onHand: new Map([['INJ', hand]]), onOrder: new Map([['INJ', way]]) })[0]!.toOrder
    expect([toOrder(0, 0), toOrder(1, 1), toOrder(2, 5)]).toEqual([3, 1, 0])
  })

  it('are more, the surer one wants to be', () => {
    const needs = Array.from({ length: 50 }, () => ({ part: 'INJ', chance: 0.1 }))
    const at = (serviceLevel: number) => partsDemand(needs, { serviceLevel })[0]!.toOrder
    expect(at(0.5)).toBe(5)
    expect(at(0.999)).toBeGreaterThan(at(0.95))
    expect(at(0.95)).toBeGreaterThan(at(0.5))
  })
})

/** Two libraries on the same cases: against hand-made numbers, and the interval against a bootstrap of vehicles. */
import { describe, expect, it } from 'vitest'
import { compareForecasts, comparisonSentence, standingOf } from '@/lib/replay/compare-forecasts'
import type { ReplayCase } from '@/lib/replay/judge'
import { seeded } from '../simulation/random'

type Given = { unit: string; chance: number; failed: number; position?: number; share?: number }

const caseOf = ({ unit, chance, failed, position = 1, share = 1 }: Given): ReplayCase => ({
  unit,
  family: 'knot-16',
  weakPoint: 'coil',
  position,
  cutOff: 18_700,
  chances: { product: chance, ages: 0, library: 0, mileage: 0, intervals: 0 },
  outcome: { fate: failed > 0 ? 'failed' : 'spared', on: 18_790, failed, share },
  booked: false,
  planned: 100,
  unplanned: 300,
})

describe('two forecasts of the same cases', () => {
  const first = [caseOf({ unit: 'A', chance: 0.2, failed: 1 }), caseOf({ unit: 'B', chance: 0.2, failed: 0 })]
  const second = [
    caseOf({ unit: 'A', chance: 0.5, failed: 1 }),
    caseOf({ unit: 'B', chance: 0.1, failed: 0 }),
  ]

  it('have the mean of their errors, and of what these fell by', () => {
    const { forecasts, vehicles, failures, logLoss, brier } = compareForecasts(first, second)
    expect({ forecasts, vehicles, failures }).toEqual({ forecasts: 2, vehicles: 2, failures: 1 })
    expect(logLoss.first).toBeCloseTo(-(Math.log(0.2) + Math.log(0.8)) / 2, 12)
    expect(logLoss.second).toBeCloseTo(-(Math.log(0.5) + Math.log(0.9)) / 2, 12)
    expect(logLoss.mean).toBeCloseTo(logLoss.first - logLoss.second, 12)
    expect(brier.first).toBeCloseTo((0.64 + 0.04) / 2, 12)
    expect(brier.second).toBeCloseTo((0.25 + 0.01) / 2, 12)
  })

  it('count an outcome that is a chance as such, and a forecast cut short pro rata', () => {
    const half = [caseOf({ unit: 'A', chance: 0.36, failed: 0.3, share: 0.5 })]
    const { brier } = compareForecasts(half, half)
    expect(brier.first).toBeCloseTo(0.3 * 0.8 ** 2 + 0.7 * 0.2 ** 2, 12)
  })

  it('are compared where both spoke alone, whatever their order', () => {
    const more = [...second, caseOf({ unit: 'C', chance: 0.3, failed: 1 })].reverse()
    const compared = compareForecasts(first, more)
    expect(compared).toMatchObject({ forecasts: 2, onlyFirst: 0, onlySecond: 1 })
    expect(compared.logLoss.mean).toBeCloseTo(compareForecasts(first, second).logLoss.mean, 12)
    expect(compareForecasts([], second)).toMatchObject({ forecasts: 0, onlySecond: 2, brier: { mean: 0 } })
  })
})

/** Vehicles of five parts each; a part's chance of failing hangs on its vehicle. */
function fleet(seed: number, vehicles: number, said: (truth: number) => number): ReplayCase[] {
  const random = seeded(seed)
  return Array.from({ length: vehicles }, (_, v) => {
    const truth = random.uniform() < 0.3 ? 0.5 : 0.05
    return Array.from({ length: 5 }, (__, p) =>
      caseOf({
        unit: `V${v}`,
        position: p + 1,
        failed: Number(random.uniform() < truth),
        chance: said(truth),
      }),
    )
  }).flat()
}

describe('how sure a difference is', () => {
  const truly = fleet(1, 60, (truth) => truth)
  const evenly = fleet(1, 60, () => 0.185)

  it('has the interval that drawing vehicles anew gives', () => {
    const { logLoss } = compareForecasts(evenly, truly)
    const random = seeded(2)
    const sums = Array.from({ length: 60 }, (_, v) => {
      const own = (cases: ReplayCase[]) => cases.filter(({ unit }) => unit === `V${v}`)
      return compareForecasts(own(evenly), own(truly)).logLoss.mean
    })
    const means = Array.from({ length: 4000 }, () => {
      let sum = 0
      for (let k = 0; k < 60; k++) sum += sums[Math.floor(random.uniform() * 60)]!
      return sum / 60
    })
    const centre = means.reduce((a, b) => a + b, 0) / means.length
    const sd = Math.sqrt(means.reduce((a, b) => a + (b - centre) ** 2, 0) / means.length)
    const width = (logLoss.interval.high - logLoss.interval.low) / 2 / 1.96
    expect(width / sd).toBeGreaterThan(0.95)
    expect(width / sd).toBeLessThan(1.07)
  })

  it('takes five parts that share one fate for one', () => {
    const five = (cases: ReplayCase[]) =>
      cases.flatMap((one) => [1, 2, 3, 4, 5].map((position) => ({ ...one, position })))
    const one = (cases: ReplayCase[]) => cases.filter(({ position }) => position === 1)
    const single = compareForecasts(one(evenly), one(truly)).logLoss
    const alike = compareForecasts(five(one(evenly)), five(one(truly))).logLoss
    expect(alike.interval.low).toBeCloseTo(single.interval.low, 12)
    expect(alike.interval.high).toBeCloseTo(single.interval.high, 12)
  })

  it('does not hang on one failure that lies in many windows', () => {
    // Every vehicle spared but one, seen from twelve days that all look as far as its failure.
    const seen = (said: number) =>
      Array.from({ length: 12 }, (_, k) =>
        Array.from({ length: 20 }, (__, v) => ({
          ...caseOf({ unit: `V${v}`, failed: Number(v === 0), chance: said }),
          cutOff: 18_700 + k,
        })),
      ).flat()
    const compared = compareForecasts(seen(0.9), seen(0.05))
    expect(compared).toMatchObject({ forecasts: 240, vehicles: 20, failures: 1 })
    expect(compared.logLoss.interval.low).toBeGreaterThan(0)
    expect(standingOf(compared)).toBe('too-few')
  })

  it('is told in a sentence: better, worse, no difference that can be shown, too few', () => {
    const better = compareForecasts(evenly, truly)
    expect(standingOf(better)).toBe('better')
    expect(comparisonSentence(better)).toMatch(
      /^On the same 300 forecasts the draft came closer to what happened than the library in force: its error is [\d.]+% smaller, between [\d.]+% and [\d.]+%; squared error 0\.\d+ against 0\.\d+\.$/,
    )
    const worse = compareForecasts(truly, evenly)
    expect(standingOf(worse)).toBe('worse')
    expect(comparisonSentence(worse, 'version 3')).toMatch(/^On the same 300 forecasts version 3 was farther/)
    const alike = compareForecasts(truly, truly)
    expect(standingOf(alike)).toBe('alike')
    expect(comparisonSentence(alike)).toMatch(/no difference between the draft and the library in force/)
    const few = compareForecasts(evenly.slice(0, 20), truly.slice(0, 20))
    expect(standingOf(few)).toBe('too-few')
    expect(comparisonSentence(few)).toMatch(/^Too little has failed to say/)
  })
})

import { describe, expect, it } from 'vitest'
import { type CountedRate, learnedRates } from '@/lib/model/learned-rates'

const FACTORS = [0.25, 0.5, 1, 2]

/** ∫ p^(a − 1)·(1 − p)^(b − 1) dp by the trapezoidal rule in the log odds of p. */
function integral(a: number, b: number): number {
  let sum = 0
  for (let x = -80; x <= 80; x += STEP) sum += STEP / ((1 + Math.exp(-x)) ** a * (1 + Math.exp(x)) ** b)
  return sum
}

const STEP = 1 / 64

/** The posterior means by integrating over the rates, factor by factor, without any function of the Beta. */
function slowly(rates: readonly CountedRate[]): number[] {
  const byFactor = FACTORS.map((factor) =>
    rates.map(({ stated, spread, yes, no }) => {
      const variance = (factor * spread) ** 2
      const [a, b] = [1 / ((1 - stated) * variance), 1 / (stated * variance)]
      const prior = integral(a, b)
      const likelihood = integral(a + yes, b + no) / prior
      return { likelihood, mean: integral(a + yes + 1, b + no) / prior / likelihood }
    }),
  )
  const weights = byFactor.map((each) => each.reduce((all, { likelihood }) => all * likelihood, 1))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  return rates.map((_, i) =>
    byFactor.reduce((mean, each, f) => mean + (weights[f]! / total) * each[i]!.mean, 0),
  )
}

const counted = (stated: number, yes: number, no: number, spread = 0.6): CountedRate => ({
  stated,
  spread,
  yes,
  no,
})

describe('rates learned from counts', () => {
  it.each([
    ['one, where chance may have done it', [counted(0.5, 3.4, 1.2)]],
    ['two that are right', [counted(0.5, 6.1, 5.8), counted(0.3, 2.9, 7.2)]],
    ['two that are far off', [counted(0.5, 2, 16), counted(0.3, 11, 4, 1)]],
  ])('are the means that integrals give: %s', (_, rates) => {
    const expected = slowly(rates)
    learnedRates(rates).forEach((rate, i) => {
      expect(rate).toBeCloseTo(expected[i]!, 6)
    })
  })

  it('keep the statement, to the last digit, where nothing was counted', () => {
    expect(learnedRates([counted(0.35, 0, 0), counted(0.004, 2, 300), counted(1, 0, 0)])).toEqual([
      0.35,
      expect.closeTo(0.005, 2),
      1,
    ])
  })

  it('stay nearer to statements of which the others turn out to be right', () => {
    const right = Array.from({ length: 10 }, () => counted(0.5, 30, 30))
    const wrong = Array.from({ length: 10 }, (_, i) =>
      counted(0.5, i % 2 === 0 ? 10 : 50, i % 2 === 0 ? 50 : 10),
    )
    const [amongRight] = learnedRates([counted(0.5, 10, 4), ...right])
    const [amongWrong] = learnedRates([counted(0.5, 10, 4), ...wrong])
    expect(amongRight).toBeLessThan(0.55)
    expect(amongWrong).toBeGreaterThan(0.65)
  })

  it.each([
    [0, 5, 0],
    [1, 0, 5],
    [0, 0, 1e6],
    [1, 1e6, 0],
    [0.5, 1e6, 0],
  ])('lie inside (0, 1), stated %f and counted %f against %f', (stated, yes, no) => {
    const [rate] = learnedRates([counted(stated, yes, no)])
    expect(rate).toBeGreaterThan(0)
    expect(rate).toBeLessThan(1)
  })
})

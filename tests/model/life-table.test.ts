import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cumulativeOnset, developingRatio, lifeTables, logDevelopingRatio } from '@/lib/model/life-table'
import { logDeveloping, logSoundSurvival } from '@/lib/model/two-stage'
import { runs } from '../runs'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp)
const lives = fc.record({ shape: between(0.5, 10), scale: fc.constant(100_000), pfMean: between(200, 1e6) })
/** Within the table: e^(−9) to 20 scales. */
const ages = between(20, 2e6)

describe('a tabulated life', () => {
  it('has the ratio of developing to sound parts that the integrals have', () => {
    fc.assert(
      fc.property(lives, ages, (life, age) => {
        const tables = lifeTables([life], [1])
        const [developing, sound] = [logDeveloping(age, life), logSoundSurvival(age, life)]
        // Where not one in a million has not failed, or of those hardly one is sound, nothing is read but the order.
        fc.pre(Math.max(developing, sound) > Math.log(1e-6) && developing - sound < 30)
        const exact = developing - sound
        const error = Math.abs(logDevelopingRatio(tables, 0, Math.log(age)) - exact)
        expect(error).toBeLessThan(life.shape < 5 ? 2e-4 : 2e-3)
      }),
      { numRuns: runs(200), seed: 1 },
    )
  })

  it('has no more developing parts than ever began, also before its first age', () => {
    fc.assert(
      fc.property(lives, between(1e-6, 2e6), (life, age) => {
        const tables = lifeTables([life], [1])
        const onsets = cumulativeOnset(tables, 0, Math.log(age))
        fc.pre(onsets < 300)
        const began = Math.expm1(onsets)
        expect(developingRatio(tables, 0, Math.log(age))).toBeLessThanOrEqual(began * (1 + 1e-6))
      }),
      { numRuns: runs(200), seed: 2 },
    )
  })

  it('has all parts sound at age 0', () => {
    const tables = lifeTables([{ shape: 0.7, scale: 1_000, pfMean: 100 }], [1])
    expect(cumulativeOnset(tables, 0, Math.log(0))).toBe(0)
    expect(developingRatio(tables, 0, Math.log(0))).toBe(0)
  })

  it('has none developing where there is no warning, nor where this variant lacks the part', () => {
    const tables = lifeTables(
      [
        { shape: 3, scale: 1_000, pfMean: 0 },
        { shape: 3, scale: Number.POSITIVE_INFINITY, pfMean: 100 },
      ],
      [0.5, 0.5],
    )
    for (const node of [0, 1]) expect(developingRatio(tables, node, Math.log(800))).toBe(0)
    expect(cumulativeOnset(tables, 1, Math.log(800))).toBe(0)
  })

  it('keeps its nodes apart', () => {
    const lives2 = [
      { shape: 3, scale: 1_000, pfMean: 50 },
      { shape: 2, scale: 5_000, pfMean: 300 },
    ]
    const both = lifeTables(lives2, [0.3, 0.7])
    lives2.forEach((life, node) => {
      const alone = lifeTables([life], [1])
      for (const age of [10, 700, 4_000]) {
        const logAge = Math.log(age)
        expect(logDevelopingRatio(both, node, logAge)).toBe(logDevelopingRatio(alone, 0, logAge))
      }
    })
  })
})

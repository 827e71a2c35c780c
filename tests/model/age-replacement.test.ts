import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ageReplacement, costRate } from '@/lib/model/age-replacement'
import { meanLife } from '@/lib/model/mean-life'
import { runs } from '../runs'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const situations = fc.record({
  life: fc.record({
    shape: number(0.6, 8),
    scale: fc.constant(100_000),
    pfMean: fc.oneof(fc.constant(0), number(500, 300_000)),
  }),
  planned: number(50, 2_000),
  ratio: number(1.01, 30),
})

/** Ages on a fine logarithmic grid, 100 to 2,000,000 km. */
const ages = Array.from({ length: 400 }, (_, i) => 100 * 20_000 ** (i / 399))

describe('the best age to replace a part', () => {
  it('costs no more than any other age, nor than running to failure', () => {
    fc.assert(
      fc.property(situations, ({ life, planned, ratio }) => {
        const answer = ageReplacement(life, planned, planned * ratio)
        if (!answer.ok) throw new Error(answer.reason)
        expect(answer.gStar).toBeLessThanOrEqual((planned * ratio) / meanLife(life))
        const cheapest = Math.min(...ages.map((age) => costRate(age, life, planned, planned * ratio)))
        expect(answer.gStar).toBeLessThanOrEqual(cheapest * (1 + 1e-9))
      }),
      { numRuns: runs(60), seed: 4 },
    )
  })

  it('lies in its flat stretch, at whose ends the rate is 5 % higher', () => {
    fc.assert(
      fc.property(situations, ({ life, planned, ratio }) => {
        const answer = ageReplacement(life, planned, planned * ratio)
        if (!answer.ok || !answer.finite) return
        const { tStar, gStar, flatLow, flatHigh } = answer
        expect(flatLow).toBeLessThan(tStar)
        expect(flatHigh).toBeGreaterThan(tStar)
        const ends = [flatLow, flatHigh].filter(Number.isFinite)
        for (const end of ends)
          expect(costRate(end, life, planned, planned * ratio) / gStar).toBeCloseTo(1.05, 6)
      }),
      { numRuns: runs(100), seed: 5 },
    )
  })
})

describe('running to failure', () => {
  const life = { shape: 2.5, scale: 100_000, pfMean: 10_000 }

  it('is the answer where a failure costs no more than a plan', () => {
    const answer = ageReplacement(life, 500, 500)
    expect(answer).toMatchObject({ ok: true, finite: false, gStar: 500 / meanLife(life) })
    expect(answer).toMatchObject({ tStar: Number.POSITIVE_INFINITY, flatHigh: Number.POSITIVE_INFINITY })
  })

  it('is the answer where the warning is so long that the hazard stays low', () => {
    expect(ageReplacement({ ...life, pfMean: 200_000 }, 500, 700)).toMatchObject({ ok: true, finite: false })
    expect(ageReplacement({ ...life, pfMean: 2_000 }, 500, 700)).toMatchObject({ ok: true, finite: true })
  })
})

it.each([
  [{ shape: 2, scale: 1e5, pfMean: 0 }, 0, 100],
  [{ shape: 2, scale: 1e5, pfMean: 0 }, -5, 100],
  [{ shape: 2, scale: 1e5, pfMean: 0 }, 5, Number.NaN],
  [{ shape: 0, scale: 1e5, pfMean: 0 }, 5, 100],
  [{ shape: 2, scale: Number.POSITIVE_INFINITY, pfMean: 0 }, 5, 100],
])('says so outside its domain: %o, %d, %d', (life, planned, failure) => {
  expect(ageReplacement(life, planned, failure)).toEqual({ ok: false, reason: 'outside-domain' })
})

/** Totals that are kept as the points that hold something: against those that are kept as all points. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Amounts, addAmounts, nothing } from '@/lib/model/lattice'
import { totalOfWays } from '@/lib/model/sum-of-amounts'
import { runs } from '../runs'

const amounts: fc.Arbitrary<Amounts> = fc
  .array(
    fc.record({
      cost: fc.double({ min: 0, max: 900, noNaN: true }),
      weight: fc.double({ min: 1e-9, max: 1, noNaN: true }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((parts) => {
    const total = parts.reduce((sum, { weight }) => sum + weight, 0)
    return { cost: parts.map(({ cost }) => cost), chance: parts.map(({ weight }) => weight / total) }
  })

describe('the total of a few amounts', () => {
  it('is what adding one after the other to all points comes to', () => {
    fc.assert(
      fc.property(
        fc.array(amounts, { maxLength: 5 }),
        fc.constantFrom(1, 3),
        fc.constantFrom(1e-13, 1e-8),
        (all, step, negligible) => {
          const dense = all.reduce((sum, each) => addAmounts(sum, each), nothing(step))
          const sparse = totalOfWays([{ weight: 1, amounts: all }], step, negligible)
          expect(sparse.mean).toBeCloseTo(dense.mean, 9)
          expect(sparse.summed).toBe(dense.summed)
          const far = Math.max(dense.mass.length, sparse.mass.length)
          let [off, least] = [0, 0]
          for (let i = 0; i < far; i++) {
            off += (sparse.mass[i] ?? 0) - (dense.mass[i] ?? 0)
            least = Math.max(least, Math.abs(off))
          }
          // Of each amount at most six parts are left out that are not told apart.
          expect(least).toBeLessThanOrEqual(6 * all.length * negligible + 1e-12)
        },
      ),
      { numRuns: runs(200), seed: 3 },
    )
  })

  it('of several kinds is each with its weight, and begins anew each time', () => {
    const small: Amounts = { cost: [0, 2], chance: [0.5, 0.5] }
    const large: Amounts = { cost: [0, 5], chance: [0.25, 0.75] }
    const ways = [
      { weight: 0.6, amounts: [small, small] },
      { weight: 0.4, amounts: [large] },
    ]
    const { mass, mean } = totalOfWays(ways, 1, 1e-13)
    expect([...mass].map((p) => Math.round(p * 1e9) / 1e9)).toEqual([0.25, 0, 0.3, 0, 0.15, 0.3])
    expect(mean).toBeCloseTo(0.6 * 2 + 0.4 * 3.75, 12)
  })
})

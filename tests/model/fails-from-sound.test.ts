/** Strands that are reckoned together come to what each comes to by itself, whatever their neighbours share with them. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { failsFromSound } from '@/lib/model/fails-from-sound'
import { lifeTables } from '@/lib/model/life-table'
import { makeStrands } from '@/lib/model/strands'
import { runs } from '../runs'

const NODES = [1.2, 3, 5].flatMap((shape) =>
  [40_000, 100_000].flatMap((scale) => [0, 800, 30_000].map((pfMean) => ({ shape, scale, pfMean }))),
)
const tables = lifeTables(
  NODES,
  NODES.map(() => 1 / NODES.length),
)

const strand = fc.record({
  node: fc.nat(NODES.length - 1),
  age: fc.constantFrom(0, 1, 9_000, 60_000, 250_000),
})

describe('failing from sound', () => {
  it('is alike alone and among others, in any order', () => {
    fc.assert(
      fc.property(
        fc.array(strand, { minLength: 1, maxLength: 12 }),
        fc.constantFrom(0, 30, 2_000, 70_000),
        (starts, step) => {
          const life = starts.map((start) => ({ ...start, sound: 1 / starts.length, developing: 0 }))
          const together = failsFromSound(makeStrands(tables, life), step)
          const alone = life.map((one) => failsFromSound(makeStrands(tables, [one]), step)[0]!)
          expect([...together]).toEqual(alone)
        },
      ),
      { numRuns: runs(200), seed: 6 },
    )
  })

  // The same integral, by the trapezium rule in t = √(v/Δ) on so many panels that its error is below what is asked.
  it('holds where a part is far beyond its life and the step is short against its warning', () => {
    const PANELS = 400_000
    const sure = (shape: number, scale: number, pfMean: number, age: number, step: number) => {
      let sum = 0
      for (let i = 0; i <= PANELS; i++) {
        const t = i / PANELS
        const v = step * t * t
        const onsets = ((age + v) / scale) ** shape - (age / scale) ** shape
        const value = -Math.expm1(-onsets) * Math.exp(-(step - v) / pfMean) * 2 * t
        sum += i === 0 || i === PANELS ? value / 2 : value
      }
      return ((sum / PANELS) * step) / pfMean
    }
    for (const [shape, scale, pfMean, age, step] of [
      [3, 1_000, 30_000, 9_000, 2_000],
      [5, 1_000, 30_000, 9_000, 2_000],
      [5, 400, 30_000, 9_000, 1_000],
      [2, 300, 90_000, 0, 2_500],
      [1.2, 40_000, 30_000, 250_000, 2_000],
      [4, 40_000, 9_000, 100_000, 800],
      [4, 40_000, 9_000, 100_000, 100],
    ] as const) {
      const life = makeStrands(lifeTables([{ shape, scale, pfMean }], [1]), [
        { node: 0, age, sound: 1, developing: 0 },
      ])
      const [fails] = failsFromSound(life, step)
      const wanted = sure(shape, scale, pfMean, age, step)
      expect(Math.abs(fails! / wanted - 1), `${shape} ${age} ${step}`).toBeLessThan(3e-7)
    }
  })
})

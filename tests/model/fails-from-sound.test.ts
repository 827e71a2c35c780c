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
})

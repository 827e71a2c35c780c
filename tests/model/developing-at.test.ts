import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { developingAt } from '@/lib/model/developing-at'
import { lifeTables } from '@/lib/model/life-table'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import type { TwoStage } from '@/lib/model/two-stage'
import { slowly } from './slow-life'

const share = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const parameters = fc.record({ shape: share(0.7, 6), scale: share(5e4, 4e5), pfMean: share(2e3, 6e4) })
const kinds = ['failed', 'failed-since', 'developing', 'sound', 'open'] as const

const lives: fc.Arbitrary<LivedLife> = fc
  .record({
    startAge: fc.constantFrom(0, 8_000),
    developing: fc.constantFrom(0, 0.02, 0.3),
    entry: fc.constantFrom(null, { age: 12_000, sound: false }, { age: 12_000, sound: true }),
    gaps: fc.array(share(500, 20_000), { minLength: 1, maxLength: 6 }),
    odds: fc.array(fc.constantFrom(0, 0.15, 0.9, 3, 40), { minLength: 6, maxLength: 6 }),
    kind: fc.constantFrom(...kinds),
  })
  .map(({ startAge, developing, entry, gaps, odds, kind }) => {
    let age = Math.max(startAge, entry?.age ?? 0)
    const looks = gaps.map((gap, i) => {
      age += gap
      return { age, odds: odds[i]! }
    })
    const ending: LifeEnding =
      kind === 'failed-since' ? { kind, since: age + 100, age: age + 9_000 } : { kind, age: age + 3_000 }
    return { startAge, developing, entry, looks, ending, ways: knownWay() }
  })

/** The life if the part had been seen to develop at an age, on top of all else, against the life as it was. */
function slowChance(life: LivedLife, age: number, among: readonly { p: TwoStage; weight: number }[]): number {
  const after = life.looks.filter((look) => look.age > age)
  const before = life.looks.filter((look) => look.age <= age)
  const seen = { ...life, looks: [...before, { age, odds: Number.POSITIVE_INFINITY }, ...after] }
  const likelihood = (one: LivedLife) =>
    among.reduce((sum, { p, weight }) => sum + weight * Math.exp(slowly(one, p, 0)), 0)
  return likelihood(seen) / likelihood(life)
}

/** Of 333,233 moments of 75,000 lives the tables weighed none further off than 9e-6 (seeds 7, 8 and −791269708). */
const APART = 5e-5

const agesOf = ({ looks, startAge, entry }: LivedLife) => [
  Math.max(startAge, entry?.age ?? 0) + 200,
  ...looks.map((look) => look.age),
]

describe('P(developing at a look | the whole life)', () => {
  it('is the share of the likelihood that goes through it, by slow integrals', () => {
    fc.assert(
      fc.property(lives, parameters, (life, p) => {
        const found = developingAt(life, agesOf(life), lifeTables([p], [1]))
        agesOf(life).forEach((age, i) => {
          expect(Math.abs(found[i]! - slowChance(life, age, [{ p, weight: 1 }]))).toBeLessThan(APART)
        })
      }),
      { numRuns: 200 },
    )
  })

  it('is that of a mixture where it is not known which way the life was', () => {
    fc.assert(
      fc.property(lives, parameters, parameters, share(0.1, 0.9), (life, p, q, weight) => {
        const among = [
          { p, weight },
          { p: q, weight: 1 - weight },
        ]
        const tables = lifeTables([p, q], [weight, 1 - weight])
        const found = developingAt(life, agesOf(life), tables)
        agesOf(life).forEach((age, i) => {
          expect(Math.abs(found[i]! - slowChance(life, age, among))).toBeLessThan(APART)
        })
      }),
      { numRuns: 100 },
    )
  })

  const p = { shape: 3, scale: 100_000, pfMean: 5_000 }
  const life = (more: Partial<LivedLife>): LivedLife => ({
    startAge: 0,
    developing: 0,
    entry: null,
    looks: [],
    ending: { kind: 'failed', age: 60_000 },
    ways: knownWay(),
    ...more,
  })
  const at = (one: LivedLife, ...ages: number[]) => [...developingAt(one, ages, lifeTables([p], [1]))]

  it('is 0 up to where it was found sound, and 1 from where it was found developing', () => {
    const looks = [
      { age: 40_000, odds: 0 },
      { age: 55_000, odds: Number.POSITIVE_INFINITY },
    ]
    const [early, found, between, late, end] = at(life({ looks }), 30_000, 40_000, 50_000, 55_000, 59_000)
    expect([early, found]).toEqual([0, 0])
    expect(between).toBeGreaterThan(0.1)
    expect(between).toBeLessThan(0.99)
    expect([late, end]).toEqual([1, 1])
  })

  it('stays a chance where findings contradict each other', () => {
    const looks = [
      { age: 40_000, odds: Number.POSITIVE_INFINITY },
      { age: 50_000, odds: 0 },
    ]
    const ending = { kind: 'developing', age: 50_000 } as const
    const chances = at(life({ looks, ending }), 10_000, 40_000, 45_000, 50_000)
    for (const chance of chances) {
      expect(chance).toBeGreaterThanOrEqual(0)
      expect(chance).toBeLessThanOrEqual(1)
    }
    expect(chances[1]).toBe(1)
    expect(chances[3]).toBe(0)
  })
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import { looksWithin, type PossibleLook, walkRounds } from '@/lib/decisions/look-round'

const drawn = fc.array(
  fc.record({
    unit: fc.string({ minLength: 1, maxLength: 3 }),
    site: fc.constantFrom('north', 'south', null),
    kind: fc.constantFrom('scan', 'visual', 'road', 'measure'),
    worth: fc.integer({ min: 1, max: 400 }),
    hours: fc.constantFrom(0, 0.2, 0.3, 0.4, 0.8),
  }),
  { maxLength: 9 },
) as fc.Arbitrary<PossibleLook[]>

/** The most that any set of them within the hours is worth, by trying every set. */
function best(looks: PossibleLook[], hours: number): number {
  let most = 0
  for (let set = 0; set < 1 << looks.length; set++) {
    const taken = looks.filter((_, i) => set & (1 << i))
    if (taken.reduce((sum, look) => sum + look.hours, 0) > hours + 1e-9) continue
    most = Math.max(
      most,
      taken.reduce((sum, look) => sum + look.worth, 0),
    )
  }
  return most
}

it('takes looks within the hours that are worth nearly the most, under a bound that holds', () => {
  fc.assert(
    fc.property(drawn, fc.integer({ min: 0, max: 20 }), (looks, tenths) => {
      const hours = tenths / 10
      const within = looksWithin(looks, hours)
      const most = best(looks, hours)
      const dearest = Math.max(0, ...looks.map(({ worth }) => worth))
      expect(within.hours).toBeLessThanOrEqual(hours + 1e-6)
      expect(within.worth).toBeCloseTo(
        within.looks.reduce((sum, { worth }) => sum + worth, 0),
        9,
      )
      expect(within.worth).toBeLessThanOrEqual(most + 1e-9)
      expect(within.bound).toBeGreaterThanOrEqual(most - 1e-6)
      expect(most - within.worth).toBeLessThanOrEqual(dearest)
      expect(new Set(within.looks).size).toBe(within.looks.length)
    }),
    { numRuns: 200 },
  )
})

it('makes rounds of which each has one site and one kind, and together every look once', () => {
  fc.assert(
    fc.property(drawn, (looks) => {
      const rounds = walkRounds(looks)
      const all = rounds.flatMap((round) => {
        for (const look of round.looks) expect([look.site, look.kind]).toEqual([round.site, round.kind])
        return round.looks
      })
      expect(all).toHaveLength(looks.length)
      expect(new Set(all)).toEqual(new Set(looks))
      expect(new Set(rounds.map(({ site, kind }) => `${site} ${kind}`)).size).toBe(rounds.length)
      const worths = rounds.map(({ worth }) => worth)
      expect(worths).toEqual([...worths].sort((a, b) => b - a))
    }),
    { numRuns: 100 },
  )
})

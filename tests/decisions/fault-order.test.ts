/** The order of looking for a fault against every way of going about it, and what must hold of any. */
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { faultOrder } from '@/lib/decisions/fault-order'
import type { FaultCause, FaultLook, FaultQuestion } from '@/lib/decisions/fault-question'
import { cheapestOrder, costOfOrder } from '@/lib/model/check-order'

const someCauses = (most: number) =>
  fc
    .array(
      fc.record({
        raw: fc.integer({ min: 1, max: 20 }),
        cost: fc.integer({ min: 0, max: 300 }),
        success: fc.constantFrom(1, 0.98, 0.7),
      }),
      { minLength: 1, maxLength: most },
    )
    .map((all): FaultCause[] => {
      const total = all.reduce((sum, { raw }) => sum + raw, 0)
      return all.map(({ raw, cost, success }, i) => ({
        weakPoint: `w${i}`,
        position: 1,
        chance: raw / total,
        cost,
        success,
      }))
    })

const someLooks = (most: number) =>
  fc
    .array(
      fc.record({
        cost: fc.integer({ min: 0, max: 60 }),
        leak: fc.constantFrom(0, 0.02, 0.2),
        detect: fc.array(fc.constantFrom(0, 0.4, 0.9, 1), { minLength: 9, maxLength: 9 }),
      }),
      { maxLength: most },
    )
    .map((all): FaultLook[] => all.map((each, i) => ({ look: `s${i}`, ...each })))

/** Every policy there is, by what is believed at each step; a cause that was replaced badly stays the fault. */
function byBruteForce(
  causes: readonly FaultCause[],
  looks: readonly FaultLook[],
  fallback: number,
  believed = causes.map(({ chance }) => chance),
  replaced: readonly number[] = [],
): number {
  const total = believed.reduce((a, b) => a + b, 0)
  if (total <= 1e-12) return 0
  const p = believed.map((each) => each / total)
  const open = causes.flatMap((_, i) => (replaced.includes(i) || p[i] === 0 ? [] : [i]))
  if (open.length === 0) return fallback
  const ways = open.map((i) => {
    const { cost, success } = causes[i]!
    const left = p.map((each, j) => (j === i ? each * (1 - success) : each))
    const stays = left.reduce((a, b) => a + b, 0)
    return cost + stays * byBruteForce(causes, looks, fallback, left, [...replaced, i])
  })
  const looked = looks.map(({ cost, leak, detect }, l) => {
    const seen = p.map((each, i) => each * (1 - (1 - leak) * (1 - detect[i]!)))
    const chance = seen.reduce((a, b) => a + b, 0)
    const others = looks.filter((_, other) => other !== l)
    const unseen = p.map((each, i) => each - seen[i]!)
    const after = (weights: number[], share: number) =>
      share > 1e-12 ? share * byBruteForce(causes, others, fallback, weights, replaced) : 0
    return cost + after(seen, chance) + after(unseen, 1 - chance)
  })
  return Math.min(...ways, ...looked)
}

const cause = (weakPoint: string, chance: number, cost: number, success = 1): FaultCause => ({
  weakPoint,
  position: 1,
  chance,
  cost,
  success,
})

describe('the order of looking for a fault', () => {
  it('costs what the best of all policies costs', () => {
    fc.assert(
      fc.property(someCauses(4), someLooks(2), fc.constantFrom(0, 500), (causes, looks, fallback) => {
        const { expectedCost } = faultOrder({ causes, looks, fallback })
        expect(expectedCost).toBeCloseTo(byBruteForce(causes, looks, fallback), 6)
      }),
      { numRuns: process.env.LONG_TESTS ? 1000 : 100 },
    )
  })

  it('never costs more than the likeliest replaced first, and says what that costs', () => {
    fc.assert(
      fc.property(someCauses(7), someLooks(3), (causes, looks) => {
        const { expectedCost, obvious, saving } = faultOrder({ causes, looks })
        const likeliest = causes.map((_, i) => i).sort((a, b) => causes[b]!.chance - causes[a]!.chance)
        const tries = causes.map((each) => ({ ...each, resolves: each.success }))
        expect(obvious.expectedCost).toBeCloseTo(costOfOrder(tries, likeliest, { faults: 'one' }), 8)
        expect(saving).toBeCloseTo(obvious.expectedCost - expectedCost, 10)
        expect(saving).toBeGreaterThan(-1e-9)
      }),
      { numRuns: 60 },
    )
  })

  it('is that of probability resolved per cost where every cause is simply replaced', () => {
    fc.assert(
      fc.property(someCauses(9), (causes) => {
        const tries = causes.map((each) => ({ ...each, resolves: each.success }))
        const { expectedCost } = faultOrder({ causes, looks: [] })
        expect(expectedCost).toBeCloseTo(cheapestOrder(tries, { faults: 'one' }).expectedCost, 8)
      }),
    )
  })

  it('looks before it replaces where the look is cheap, and needs no look for the last cause left', () => {
    const causes = [cause('coil', 0.5, 200), cause('plug', 0.5, 300)]
    const looks = [
      { look: 'coil-swapped', cost: 20, leak: 0, detect: [1, 0] },
      { look: 'plug-worn', cost: 25, leak: 0, detect: [0, 1] },
    ]
    const { steps, expectedCost } = faultOrder({ causes, looks })
    expect(steps).toEqual([
      { look: 'coil-swapped', cost: 20, chanceResolved: 0.5, expectedCostFromHere: 270 },
      { renew: { weakPoint: 'plug', position: 1 }, cost: 300, chanceResolved: 1, expectedCostFromHere: 300 },
    ])
    expect(expectedCost).toBe(270)
  })

  it('ranks anew by what was seen: the cause that a look points to comes first', () => {
    const question: FaultQuestion = {
      causes: [cause('coil', 0.6, 200), cause('injector', 0.4, 250)],
      looks: [{ look: 'leak-off', cost: 30, leak: 0.02, detect: [0, 0.8] }],
    }
    const seen = faultOrder({ ...question, results: [{ look: 'leak-off', seen: true }] })
    expect(seen.causes[0]).toMatchObject({ weakPoint: 'injector' })
    // 0.4 · 0.804 against 0.6 · 0.02.
    expect(seen.causes[0]!.chance).toBeCloseTo(0.3216 / 0.3336, 10)
    expect(seen.steps[0]).toMatchObject({ renew: { weakPoint: 'injector' } })
    const failed = faultOrder({ ...question, results: [{ renewed: 0 }] })
    expect(failed.steps).toHaveLength(1)
    expect(failed.steps[0]).toMatchObject({ renew: { weakPoint: 'injector' }, chanceResolved: 1 })
  })

  it('goes on as it says: the steps cost, each with the chance that it is needed, what is expected', () => {
    fc.assert(
      fc.property(someCauses(6), (causes) => {
        const { steps, expectedCost } = faultOrder({ causes, looks: [] })
        let open = 1
        let cost = 0
        for (const step of steps) {
          cost += open * step.cost
          open *= 1 - step.chanceResolved
        }
        expect(cost).toBeCloseTo(expectedCost, 8)
      }),
    )
  })

  it('stops before a step that would spend more than the limit, and says what would come', () => {
    const causes = [cause('a', 0.5, 100), cause('b', 0.3, 100), cause('c', 0.2, 100)]
    const { steps, stop } = faultOrder({ causes, looks: [], spendingLimit: 250 })
    expect(steps).toHaveLength(3)
    expect(stop).toEqual({ after: 2, why: 'limit' })
    expect(faultOrder({ causes, looks: [], spendingLimit: 300 })).toMatchObject({ stop: null })
  })

  it('stops where going on would cost more beside the right job than the likeliest job itself', () => {
    const causes = [
      cause('cheap', 0.3, 20),
      ...Array.from({ length: 6 }, (_, i) => cause(`c${i}`, 0.7 / 6, 400)),
    ]
    expect(faultOrder({ causes, looks: [] }).stop).toEqual({ after: 1, why: 'likeliest-job' })
  })

  it('pays once for looks that are made at one go', () => {
    const causes = [cause('a', 0.4, 500), cause('b', 0.3, 500), cause('c', 0.3, 500)]
    const looks = [0, 1].map((l) => ({
      look: `s${l}`,
      cost: 30,
      leak: 0,
      detect: causes.map((_, i) => (i === l ? 1 : 0)),
    }))
    const scanned = looks.map((look) => ({ ...look, atOnce: 'scan' }))
    expect(faultOrder({ causes, looks: scanned }).expectedCost).toBeCloseTo(530, 10)
    expect(faultOrder({ causes, looks }).expectedCost).toBeCloseTo(530 + 0.6 * 30, 10)
  })

  it('tries more than nine causes, and is cheaper with looks than without', () => {
    const causes = Array.from({ length: 14 }, (_, i) => cause(`w${i}`, (i + 1) / 105, 100 + 10 * i, 0.98))
    const looks = Array.from({ length: 5 }, (_, l) => ({
      look: `s${l}`,
      cost: 15 + l,
      leak: 0.01,
      detect: causes.map((_, i) => (i % 5 === l ? 0.7 : 0.05)),
    }))
    const { expectedCost, obvious } = faultOrder({ causes, looks })
    expect(expectedCost).toBeLessThan(obvious.expectedCost)
  })

  it('goes on to the causes after the nine likeliest by chance per cost', () => {
    const chances = Array.from({ length: 12 }, (_, i) => 0.5 ** (i + 1))
    const total = chances.reduce((a, b) => a + b, 0)
    const causes = chances.map((each, i) => cause(`w${i}`, each / total, 10))
    const { steps, expectedCost } = faultOrder({ causes, looks: [] })
    expect(steps.map((step) => 'renew' in step && step.renew.weakPoint)).toEqual(
      causes.map((c) => c.weakPoint),
    )
    const tries = causes.map((each) => ({ ...each, resolves: 1 }))
    expect(expectedCost).toBeCloseTo(cheapestOrder(tries, { faults: 'one' }).expectedCost, 10)
  })

  it('has nothing to say where there is no cause', () => {
    expect(faultOrder({ causes: [], looks: [] })).toMatchObject({ steps: [], expectedCost: 0, saving: 0 })
  })
})

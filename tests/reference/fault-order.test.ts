import { describe, it } from 'vitest'
import { faultOrder } from '@/lib/decisions/fault-order'
import { cheapestOrder, costOfOrder, orderByRatio } from '@/lib/model/check-order'
import reference from './fault-order.json'
import { outsideCheck } from './outside-checks'

const source = 'fault-order.json: brute force over all orders, in exact fractions'
const costs = outsideCheck({
  what: 'fault-finding order: least expected cost',
  formula: 'Σ cost · P(still open), by probability resolved per cost (Kadane & Simon 1977)',
  source,
  tolerance: { relative: 1e-9 },
})
const orders = outsideCheck({
  what: 'fault-finding order: the order itself, where only one is best',
  formula: 'the same',
  source,
  tolerance: 'exact',
})
const others = outsideCheck({
  what: 'fault-finding order: cost of the likeliest first, and of the cheapest first',
  formula: 'Σ cost · P(still open)',
  source,
  tolerance: { relative: 1e-9 },
})
const lasts = outsideCheck({
  what: 'fault-finding order: the last candidate needs no check',
  formula: 'the best of the ratio orders with each candidate last',
  source,
  tolerance: { relative: 1e-9 },
})
const searched = outsideCheck({
  what: 'fault-finding order: the search over all states of knowledge',
  formula: 'dynamic programming over what was replaced',
  source,
  tolerance: { relative: 1e-9 },
})

describe('the order in which to look for a fault', () => {
  it.each(reference.cases)('$id', (each) => {
    const tries = each.candidates.map(({ p, cost, resolve }) => ({ chance: p, cost, resolves: resolve }))
    const faults = each.model === 'independent' ? 'independent' : 'one'
    const terms = { faults, fallback: each.fallbackCost } as const
    const found = cheapestOrder(tries, terms)
    costs.close(found.expectedCost, each.optimalExpectedCost, each.id)
    if (each.numberOfOptimalOrders === 1) orders.equal(found.order, each.optimalOrder, each.id)
    for (const other of [each.mostProbableFirst, each.cheapestFirst])
      others.close(costOfOrder(tries, other.order, terms), other.cost, each.id)
    if (each.ifLastNeedsNoCheck) {
      const last = { ...terms, lastNeedsNoCheck: true }
      lasts.close(
        cheapestOrder(tries, last).expectedCost,
        each.ifLastNeedsNoCheck.optimalExpectedCost,
        each.id,
      )
      lasts.close(
        costOfOrder(tries, orderByRatio(tries), last),
        each.ifLastNeedsNoCheck.ratioOrderCost,
        each.id,
      )
    }
    if (faults === 'one') {
      const sum = each.candidates.reduce((a, { p }) => a + p, 0)
      const causes = each.candidates.map(({ p, cost, resolve }, i) => ({
        weakPoint: `w${i}`,
        position: 1,
        chance: p,
        cost,
        success: resolve,
      }))
      // What is none of them, nothing ends: as a cause that costs nothing to try and never succeeds.
      const none = { weakPoint: 'none', position: 1, chance: Math.max(1 - sum, 0), cost: 0, success: 0 }
      const { expectedCost } = faultOrder({
        causes: [...causes, none],
        looks: [],
        fallback: each.fallbackCost,
      })
      searched.close(expectedCost, each.optimalExpectedCost, each.id)
    }
  })
})

costs.done()
orders.done()
others.done()
lasts.done()
searched.done()

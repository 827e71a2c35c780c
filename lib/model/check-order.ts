/**
 * The cheapest order of tries that look for one fault: what each costs, and how likely it is to end the search.
 *
 * By probability resolved per cost (Mitten 1960; Kadane & Simon 1977), which is right wherever every try costs when its
 * turn comes. Where the last that is left needs no check of its own it is not; but once it is said which is the last, the
 * others do cost when their turn comes, so the best of as many ratio orders as there are tries is right.
 */

export interface Try {
  /** P(this is the fault). */
  chance: number
  cost: number
  /** P(the try ends the search | this is the fault). */
  resolves: number
}

export interface SearchTerms {
  /** `one`: at most one of them is the fault; `independent`: each may be, and the first that is ends the search. */
  faults: 'one' | 'independent'
  /** What is paid where no try ended it. */
  fallback?: number
  /** When all others are excluded, the last is known without a check and costs nothing. */
  lastNeedsNoCheck?: boolean
}

export interface SearchOrder {
  /** Places in the list of tries. */
  order: number[]
  expectedCost: number
}

/** What an order costs on the mean. */
export function costOfOrder(tries: readonly Try[], order: readonly number[], terms: SearchTerms): number {
  const { faults, fallback = 0, lastNeedsNoCheck = false } = terms
  let open = 1
  let cost = 0
  order.forEach((i, k) => {
    const { chance, resolves, cost: each } = tries[i]!
    if (!(lastNeedsNoCheck && k === order.length - 1)) cost += each * open
    open = faults === 'one' ? open - chance * resolves : open * (1 - chance * resolves)
  })
  return cost + fallback * Math.max(open, 0)
}

/** The cheapest order of all tries; no other is cheaper. */
export function cheapestOrder(tries: readonly Try[], terms: SearchTerms): SearchOrder {
  const byRatio = orderByRatio(tries)
  const orders = terms.lastNeedsNoCheck
    ? tries.map((_, last) => [...byRatio.filter((i) => i !== last), last])
    : [byRatio]
  const costs = orders.map((order) => costOfOrder(tries, order, terms))
  const expectedCost = Math.min(...costs)
  const order = orders[costs.indexOf(expectedCost)]
  return order ? { order, expectedCost } : { order: [], expectedCost: costOfOrder(tries, [], terms) }
}

/** Most resolved per cost first; what costs nothing before all others. */
export function orderByRatio(tries: readonly Try[]): number[] {
  const ratio = tries.map(({ chance, resolves, cost }) => {
    const resolved = chance * resolves
    return cost > 0 ? resolved / cost : resolved > 0 ? Number.POSITIVE_INFINITY : 0
  })
  return tries.map((_, i) => i).sort((a, b) => (ratio[a] === ratio[b] ? a - b : ratio[b]! - ratio[a]!))
}

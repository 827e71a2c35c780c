/** What each forecaster would have spent, had it been followed. */
import type { Forecaster, ReplayCase } from './judge'

export interface Money {
  /** Jobs that would have been booked, and the visits that they take. */
  jobs: number
  visits: number
  /** What these cost. */
  planned: number
  /** Failures that they would have prevented, and what all others cost. */
  prevented: number
  unplanned: number
  spent: number
}

/**
 * At one cut-off: as many jobs as the product advised, for every forecaster those with the largest chance times what a
 * failure costs more; and what then fails. A job done prevents the failure of its component within the horizon; what
 * a new part brings after it is left out, for all alike.
 *
 * @param visit what it costs to bring a vehicle in once
 */
export function moneySpent(cases: readonly ReplayCase[], forecaster: Forecaster, visit: number): Money {
  const jobs = cases.filter(({ booked }) => booked).length
  const stakes = cases.map((each) => each.chances[forecaster] * (each.unplanned - each.planned))
  const order = cases.map((_, i) => i).sort((a, b) => stakes[b]! - stakes[a]!)
  const visits = new Set(order.slice(0, jobs).map((i) => cases[i]!.unit)).size
  let [planned, unplanned, prevented] = [visits * visit, 0, 0]
  order.forEach((i, place) => {
    const each = cases[i]!
    if (place < jobs) {
      planned += each.planned
      prevented += each.outcome.failed
    } else unplanned += each.outcome.failed * (each.unplanned + visit)
  })
  return { jobs, visits, planned, prevented, unplanned, spent: planned + unplanned }
}

/** Money of several cut-offs together. */
export function addMoney(all: readonly Money[]): Money {
  const sum = (key: keyof Money) => all.reduce((total, each) => total + each[key], 0)
  return {
    jobs: sum('jobs'),
    visits: sum('visits'),
    planned: sum('planned'),
    prevented: sum('prevented'),
    unplanned: sum('unplanned'),
    spent: sum('spent'),
  }
}

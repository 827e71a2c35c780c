/** What is told of the sum over a lot, and how what was paid stands to what was to be expected. */
import { chanceUpTo, type Lattice, quantiles } from '@/lib/model/lattice'
import { type CostClass, costClasses } from './set-aside-detail'

export interface LotSummary {
  mean: number
  /** Enough in half of all cases, in the share that was asked for, in nineteen of twenty. */
  p50: number
  amount: number
  p95: number
  classes: CostClass[]
}

/** @param share in how many of all cases the amount is to be enough */
export function lotSummary(total: Lattice, share: number): LotSummary {
  const [p50, amount, p95] = [0.5, share, 0.95].map((level) => quantiles(total, [level])[0]!)
  return { mean: total.mean, p50: p50!, amount: amount!, p95: p95!, classes: costClasses(total) }
}

/** A claim with what it cost: parts and hours, where they are on record. */
export interface ClaimCost {
  partsCost: number | null
  labourHours: number | null
}

export interface ClaimsAgainst {
  expected: number
  /** Its 80 % range. */
  low: number
  high: number
  claims: number
  paid: number
  /** Claims without parts or hours on record: they count as nothing paid. */
  unpriced: number
  /** P(no more than was paid), by what was expected. */
  chanceOfNoMore: number
  /** How what was paid stands to the range. */
  standing: 'less' | 'within' | 'more'
}

const RANGE = [0.1, 0.9] as const

/** What was paid for claims against the distribution of what was to be expected. */
export function claimsAgainst(
  total: Lattice,
  claims: readonly ClaimCost[],
  labourRate: number,
): ClaimsAgainst {
  const isPriced = ({ partsCost, labourHours }: ClaimCost) => partsCost !== null || labourHours !== null
  const paid = claims.reduce(
    (sum, each) => sum + (each.partsCost ?? 0) + (each.labourHours ?? 0) * labourRate,
    0,
  )
  const [low, high] = quantiles(total, RANGE)
  return {
    ...{ expected: total.mean, low: low!, high: high! },
    ...{ claims: claims.length, paid, unpriced: claims.filter((each) => !isPriced(each)).length },
    chanceOfNoMore: chanceUpTo(total, paid),
    standing: paid < low! ? 'less' : paid > high! ? 'more' : 'within',
  }
}

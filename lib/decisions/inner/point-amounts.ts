/** What all positions of one weak point may cost together over a stretch of use. */
import type { EventCounts } from '@/lib/model/event-counts'
import type { Amounts } from '@/lib/model/lattice'
import type { JobCost } from '../costs'
import type { PointLives } from './point-lives'

export interface PointAmounts extends Amounts {
  mean: number
  /** Of the mean, what is due to positions of unknown age. */
  meanOfUnknown: number
}

/** @param steps effective clock units of the stretch, by component */
export function pointAmounts(lives: PointLives, steps: Float64Array, cost: JobCost): PointAmounts {
  const { all, ofUnknown } = lives.countsAfter(steps, ({ weight }) => [weight])
  const amounts = amountsOf(all[0]!, cost)
  const meanOfUnknown = ofUnknown.reduce((sum, each) => sum + meanOf(amountsOf(each, cost)), 0)
  return { ...amounts, mean: meanOf(amounts), meanOfUnknown }
}

function amountsOf({ mostFailures, mostDue, chance }: EventCounts, cost: JobCost): Amounts {
  const amounts: { cost: number[]; chance: number[] } = { cost: [], chance: [] }
  for (let failures = 0, i = 0; failures <= mostFailures; failures++) {
    for (let due = 0; due <= mostDue; due++, i++) {
      amounts.cost.push(failures * cost.unplanned + due * cost.planned)
      amounts.chance.push(chance[i]!)
    }
  }
  return amounts
}

const meanOf = ({ cost, chance }: Amounts): number =>
  cost.reduce((sum, each, i) => sum + each * chance[i]!, 0)

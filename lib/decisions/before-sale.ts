/**
 * Which job brings back more than it costs before a vehicle is sold: what its cover is expected to cost less, against the
 * price of the job now. What a job changes in other parts (below what it damages) is left out.
 */
import { type Place, placeOf } from '@/lib/records/place-of'
import type { AdviceGround } from './advice'
import { jobCost } from './costs'
import type { SetAsideTerms } from './set-aside'
import { setAsideDetail } from './set-aside-detail'
import { LIFE_SHARES, supposingLife, supposingRenewed } from './supposing'
import type { MoneyBand } from './waiting'

/** A job that could be done before the sale: one part, or all of a weak point that is replaced as a set. */
export interface SaleJob {
  weakPoint: string
  name: string
  place: Place
  positions: number[]
  cost: number
  hours: number
  /** By how much the cover is expected to cost less; what half a set of lives say lies in the band (80 %). */
  fall: number
  fallBand: MoneyBand
  /** `fall` less `cost`: what the margin gains if the price stays what it is. */
  gain: number
  gainBand: MoneyBand
  cautions: string[]
}

/** So many are told, the best first. */
const MOST_JOBS = 8
/** Money: less than this is no fall. */
const NOTHING = 0.5

/**
 * The jobs that bring most, the best first; only those that bring anything.
 *
 * @param ground of the vehicle as it is to be sold: with what must be done in any case already done
 */
export function jobsBeforeSale(ground: AdviceGround, terms: SetAsideTerms): SaleJob[] {
  const all = [...new Set(ground.vehicle.belief.plan.components.map(({ weakPoint }) => weakPoint.key))]
  const meanOf = (each: AdviceGround, point: string) => {
    const excluded = new Set(all.filter((key) => key !== point))
    return setAsideDetail(each, { ...terms, excluded }).total.mean
  }
  const covered = candidates(ground).filter(({ weakPoint }) => !terms.excluded?.has(weakPoint.key))
  const before = new Map(covered.map(({ weakPoint: { key } }) => [key, meanOf(ground, key)]))
  const judged = covered.map((each) => {
    const { key } = each.weakPoint
    const after = supposingRenewed(ground, new Set(each.members))
    return { ...each, after, fall: before.get(key)! - meanOf(after, key) }
  })
  const best = judged
    .filter(({ fall }) => fall > NOTHING)
    .sort((a, b) => b.fall - b.cost - (a.fall - a.cost))
    .slice(0, MOST_JOBS)
  const byLife = Array.from({ length: LIFE_SHARES }, (_, share) => supposingLife(ground, share))
  return best.map(({ weakPoint, members, after, fall, cost, hours }) => {
    const falls = byLife.map(
      (each, share) => meanOf(each, weakPoint.key) - meanOf(supposingLife(after, share), weakPoint.key),
    )
    const fallBand = { low: Math.min(fall, ...falls), high: Math.max(fall, ...falls) }
    const { components, family } = ground.vehicle.belief.plan
    return {
      ...{ weakPoint: weakPoint.key, name: weakPoint.component },
      place: placeOf(weakPoint.positions, family.cylinders),
      positions: members.map((c) => components[c]!.position),
      ...{ cost, hours, fall, fallBand, gain: fall - cost },
      gainBand: { low: fallBand.low - cost, high: fallBand.high - cost },
      cautions: weakPoint.cautions,
    }
  })
}

/** Each part by itself; those of a weak point that is replaced as a set together, what is stripped for all once. */
function candidates({ vehicle, prices }: AdviceGround) {
  const { components } = vehicle.belief.plan
  const sets = new Map<string, number[]>()
  components.forEach(({ weakPoint, position }, c) => {
    const key = weakPoint.asASet ? weakPoint.key : `${weakPoint.key} ${position}`
    sets.set(key, [...(sets.get(key) ?? []), c])
  })
  return [...sets.values()].map((members) => {
    const { weakPoint } = components[members[0]!]!
    const saved = (members.length - 1) * Math.min(weakPoint.cost.sharedHours, weakPoint.cost.hours)
    return {
      ...{ weakPoint, members },
      hours: members.length * weakPoint.cost.hours - saved,
      cost: members.length * jobCost(weakPoint, prices).planned - saved * prices.labourRate,
    }
  })
}

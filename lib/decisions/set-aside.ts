/**
 * What to set aside for one vehicle over a cover period: the distribution of what its weak points will cost.
 *
 * Within a parameter node the positions of one weak point are independent and convolve; mixed over the nodes they are
 * not, for a short life is short for all of them. Weak points convolve at one rate of use, which they share; last the
 * rates are mixed. A failure costs C_f, a stated interval that runs out C_p, and the part goes on as an original one.
 */
import {
  addAmounts,
  type Lattice,
  mixLattices,
  nothing,
  quantiles,
  roundingOf,
  stepFor,
} from '@/lib/model/lattice'
import { type UsageNode, usageNodes } from '@/lib/scoring/ahead'
import type { AdviceGround } from './advice'
import { type JobCost, jobCost } from './costs'
import { type PointAmounts, pointAmounts } from './inner/point-amounts'

export interface Cover {
  days: number
  /** Ends it where this is reached earlier; null: only the days count. */
  km: number | null
}

export interface SetAsideTerms {
  cover: Cover
  /** Weak points, by key, that the cover leaves out. */
  excluded?: ReadonlySet<string>
  /** The most that is paid for one failure; null: all of it. */
  claimLimit?: number | null
}

export interface SetAside {
  /** Enough in half of all cases, in four of five, in nineteen of twenty. */
  p50: number
  p80: number
  p95: number
  mean: number
  /** Of the mean, what is due to parts of which nobody knows how old they are. */
  meanOfUnknownHistory: number
  /** The three amounts are right to so much: costs were rounded before they were added. */
  roundedBy: number
}

const LEVELS = [0.5, 0.8, 0.95] as const

export function setAside(ground: AdviceGround, terms: SetAsideTerms): SetAside {
  const usage = usageNodes(ground.clock, { days: terms.cover.days }).map((node) => within(node, terms.cover))
  const amounts = usage.map(({ ahead }) => {
    const steps = ground.vehicle.belief.ageingAhead(ahead)
    return componentsByPoint(ground, terms).map((point) =>
      pointAmounts(ground, point.components, steps, point.cost),
    )
  })
  const step = stepFor(Math.max(...amounts.map(likelyLargest)))
  const totals = amounts.map((points) =>
    points.reduce<Lattice>((sum, each) => addAmounts(sum, each, RARE / 10), nothing(step)),
  )
  const weights = usage.map(({ weight }) => weight)
  const total = mixLattices(totals, weights)
  const [p50, p80, p95] = quantiles(total, LEVELS)
  const unknown = amounts.map((points) => points.reduce((sum, each) => sum + each.meanOfUnknown, 0))
  return {
    p50: p50!,
    p80: p80!,
    p95: p95!,
    mean: total.mean,
    meanOfUnknownHistory: unknown.reduce((sum, each, u) => sum + each * weights[u]!, 0),
    roundedBy: roundingOf(total),
  }
}

/** The part of a stretch of use that lies within the cover. */
function within({ weight, ahead }: UsageNode, { km }: Cover): UsageNode {
  const share = km !== null && ahead.distance > km ? km / ahead.distance : 1
  const { distance, hours, time } = ahead
  return { weight, ahead: { distance: distance * share, hours: hours * share, time: time * share } }
}

interface Point {
  components: number[]
  cost: JobCost
}

function componentsByPoint(ground: AdviceGround, { excluded, claimLimit = null }: SetAsideTerms): Point[] {
  const points = new Map<string, Point>()
  ground.vehicle.belief.plan.components.forEach(({ weakPoint }, c) => {
    if (excluded?.has(weakPoint.key)) return
    const { planned, unplanned } = jobCost(weakPoint, ground.prices)
    const cost = { planned, unplanned: Math.min(unplanned, claimLimit ?? Number.POSITIVE_INFINITY) }
    const point = points.get(weakPoint.key) ?? { components: [], cost }
    point.components.push(c)
    points.set(weakPoint.key, point)
  })
  return [...points.values()]
}

/** Costs beyond this chance, of one weak point, do not make the lattice coarser. */
const RARE = 1e-7

function likelyLargest(points: readonly PointAmounts[]): number {
  return points.reduce((sum, { cost, chance }) => {
    const likely = cost.filter((_, i) => chance[i]! > RARE)
    return sum + Math.max(0, ...likely)
  }, 0)
}

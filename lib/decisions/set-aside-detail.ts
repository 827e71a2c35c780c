/**
 * What is set aside for one vehicle over a cover period: the distribution of what its weak points will cost, and how much
 * of it each makes.
 *
 * Within a parameter node the positions of one weak point are independent and convolve; mixed over the nodes they are
 * not, for a short life is short for all of them. Weak points convolve at one rate of use, which they share; last the
 * rates are mixed. A failure costs C_f, a stated interval that runs out C_p, and the part goes on as an original one.
 */
import { chanceUpTo, type Lattice, quantiles, stepFor } from '@/lib/model/lattice'
import { totalOfWays } from '@/lib/model/sum-of-amounts'
import { type UsageNode, usageNodes } from '@/lib/scoring/ahead'
import type { AdviceGround } from './advice'
import { type JobCost, jobCost } from './costs'
import { type PointAmounts, pointAmounts } from './inner/point-amounts'
import { PointLives } from './inner/point-lives'

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

export interface SetAsideDetail {
  total: Lattice
  /** Of each weak point that the cover does not leave out; the means sum to that of the total. */
  points: { weakPoint: string; mean: number; meanOfUnknownHistory: number }[]
}

export function setAsideDetail(ground: AdviceGround, terms: SetAsideTerms): SetAsideDetail {
  const covered = pointsCovered(ground, terms)
  const usage = usageNodes(ground.clock, { days: terms.cover.days }).map((node) => within(node, terms.cover))
  const weights = usage.map(({ weight }) => weight)
  const steps = ground.vehicle.belief.ageingAheads(usage.map(({ ahead }) => ahead))
  const byPoint = covered.map((point) => amountsByUse(ground, point, steps))
  const byUse = usage.map((_, u) => byPoint.map((each) => each[u]!))
  const step = stepFor(Math.max(...byUse.map(likelyLargest)))
  const ways = byUse.map((amounts, u) => ({ amounts, weight: weights[u]! }))
  const total = totalOfWays(ways, step, RARE / 10)
  const mixed = (of: (point: PointAmounts) => number, p: number) =>
    byUse.reduce((sum, points, u) => sum + weights[u]! * of(points[p]!), 0)
  const points = covered.map(({ weakPoint }, p) => ({
    weakPoint,
    mean: mixed(({ mean }) => mean, p),
    meanOfUnknownHistory: mixed(({ meanOfUnknown }) => meanOfUnknown, p),
  }))
  return { total, points }
}

/** The part of a stretch of use that lies within the cover. */
function within({ weight, ahead }: UsageNode, { km }: Cover): UsageNode {
  const share = km !== null && ahead.distance > km ? km / ahead.distance : 1
  const { distance, hours, time } = ahead
  return { weight, ahead: { distance: distance * share, hours: hours * share, time: time * share } }
}

interface PointCovered {
  weakPoint: string
  components: number[]
  cost: JobCost
}

function pointsCovered({ vehicle, prices }: AdviceGround, terms: SetAsideTerms): PointCovered[] {
  const { excluded, claimLimit = null } = terms
  const points = new Map<string, PointCovered>()
  vehicle.belief.plan.components.forEach(({ weakPoint }, component) => {
    if (excluded?.has(weakPoint.key)) return
    const { planned, unplanned } = jobCost(weakPoint, prices)
    const cost = { planned, unplanned: Math.min(unplanned, claimLimit ?? Number.POSITIVE_INFINITY) }
    const point = points.get(weakPoint.key) ?? { weakPoint: weakPoint.key, components: [], cost }
    point.components.push(component)
    points.set(weakPoint.key, point)
  })
  return [...points.values()]
}

/** What a weak point may cost, by use; alike where its parts age alike, as they do where the kilometres end the cover. */
function amountsByUse(
  ground: AdviceGround,
  { components, cost }: PointCovered,
  steps: readonly Float64Array[],
): PointAmounts[] {
  const lives = new PointLives(ground, components)
  const byUse: PointAmounts[] = []
  steps.forEach((here, u) => {
    const before = steps.findIndex((there) => components.every((c) => there[c] === here[c]))
    byUse.push(before < u ? byUse[before]! : pointAmounts(lives, here, cost))
  })
  return byUse
}

/** Costs beyond this chance, of one weak point, do not make the lattice coarser. */
const RARE = 1e-7

const likelyLargest = (points: readonly PointAmounts[]): number =>
  points.reduce(
    (sum, { cost, chance }) =>
      sum + cost.reduce((most, each, i) => (chance[i]! > RARE ? Math.max(most, each) : most), 0),
    0,
  )

/** The chance that the total is more than `from` and at most `upTo`; without an end for the last. */
export interface CostClass {
  from: number
  upTo: number | null
  chance: number
}

/** At least so many steps lie between nothing and the last class, and two and a half times as many at most. */
const FEWEST_STEPS = 5
/** What is dearer is told together. */
const TAIL = 0.98

/**
 * A total cut into classes: nothing at all, then steps of 1, 2 or 5 times a power of ten, then all that is dearer. The
 * chances sum to 1.
 */
export function costClasses(total: Lattice): CostClass[] {
  const [far] = quantiles(total, [TAIL])
  const chances = (from: number, upTo: number) => chanceUpTo(total, upTo) - chanceUpTo(total, from)
  const none = { from: 0, upTo: 0, chance: chanceUpTo(total, 0) }
  if (!(far! > 0)) return [none, { from: 0, upTo: null, chance: 1 - none.chance }]
  const width = roundWidth(far! / FEWEST_STEPS)
  const steps = Array.from({ length: Math.ceil(far! / width) }, (_, i) => [i * width, (i + 1) * width])
  const end = steps.length * width
  return [
    none,
    ...steps.map(([from, upTo]) => ({ from: from!, upTo: upTo!, chance: chances(from!, upTo!) })),
    { from: end, upTo: null, chance: Math.max(0, 1 - chanceUpTo(total, end)) },
  ]
}

/** The largest of 1, 2 or 5 times a power of ten that is not above `most`. */
function roundWidth(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most))
  return ([5, 2, 1].find((times) => times * power <= most) ?? 1) * power
}

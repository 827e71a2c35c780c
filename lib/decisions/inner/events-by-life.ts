/** How often the parts of one vehicle fail and come due, for lives from the shortest to the longest that are thought possible. */
import { countsTogether, type EventCounts } from '@/lib/model/renewals-ahead'
import { usageNodes } from '@/lib/scoring/ahead'
import type { AdviceGround } from '../advice'
import { type JobCost, jobCost } from '../costs'
import { LIFE_SHARES, shortestFirst } from '../supposing'
import { mixOver, pointCounts, type SharedCounts } from './point-amounts'

/** One weak point of a vehicle, all of its positions together. */
export interface EventsByLife {
  weakPoint: string
  cost: JobCost
  /** By fifth of the possible lives, the shortest first; each as likely as the others. */
  byLife: EventCounts[]
}

/** @param days how far is looked ahead */
export function eventsByLife(ground: AdviceGround, days: number): EventsByLife[] {
  const { belief } = ground.vehicle
  const usage = usageNodes(ground.clock, { days }).map(({ weight, ahead }) => ({
    weight,
    steps: belief.ageingAhead(ahead),
  }))
  const points = new Map<string, number[]>()
  belief.plan.components.forEach(({ weakPoint: { key } }, c) => {
    points.set(key, [...(points.get(key) ?? []), c])
  })
  return [...points].map(([weakPoint, components]) => {
    const known = new Map<string, EventCounts[]>()
    const byUse = usage.map(({ steps }) => {
      const key = components.map((c) => steps[c]).join(' ')
      const found = known.get(key) ?? byLife(ground, components, steps)
      known.set(key, found)
      return found
    })
    const weights = Float64Array.from(usage, ({ weight }) => weight)
    return {
      weakPoint,
      cost: jobCost(belief.plan.components[components[0]!]!.weakPoint, ground.prices),
      byLife: Array.from({ length: LIFE_SHARES }, (_, share) =>
        mixOver(
          byUse.map((each) => each[share]!),
          weights,
        ),
      ),
    }
  })
}

/** Positions with other nodes (a part of another revision) are as short-lived, among theirs, as the rest. */
function byLife(ground: AdviceGround, components: readonly number[], steps: Float64Array): EventCounts[] {
  const { shared } = pointCounts(ground, components, steps)
  return Array.from({ length: LIFE_SHARES }, (_, share) =>
    shared.map((each) => mixOver(each.together, shareOf(each, share))).reduce(countsTogether),
  )
}

/** What the nodes weigh where only one fifth of all mass is left. */
function shareOf({ tables, weight }: SharedCounts, share: number): Float64Array {
  const total = weight.reduce((a, b) => a + b, 0)
  const [from, to] = [(share / LIFE_SHARES) * total, ((share + 1) / LIFE_SHARES) * total]
  const left = new Float64Array(weight.length)
  let before = 0
  for (const k of shortestFirst(tables)) {
    const after = before + weight[k]!
    left[k] = Math.max(Math.min(after, to) - Math.max(before, from), 0)
    before = after
  }
  return left
}

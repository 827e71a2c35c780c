/** How often the parts of one vehicle fail and come due, for lives from the shortest to the longest that are thought possible. */
import { type EventCounts, mixCounts } from '@/lib/model/event-counts'
import { usageNodes } from '@/lib/scoring/ahead'
import type { AdviceGround } from '../advice'
import { type JobCost, jobCost } from '../costs'
import { LIFE_SHARES, shortestFirst } from '../supposing'
import { PointLives, type WeightsAsked } from './point-lives'

/** One weak point of a vehicle, all of its positions together. */
export interface EventsByLife {
  weakPoint: string
  cost: JobCost
  /**
   * By fifth of the possible lives, the shortest first; each as likely as the others. Positions with other nodes (a part
   * of another revision) are as short-lived, among theirs, as the rest.
   */
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
    const lives = new PointLives(ground, components)
    const known = new Map<string, EventCounts[]>()
    const byUse = usage.map(({ steps }) => {
      const key = components.map((c) => steps[c]).join(' ')
      const found = known.get(key) ?? lives.countsAfter(steps, fifthsOf).all
      known.set(key, found)
      return found
    })
    const weights = usage.map(({ weight }) => weight)
    return {
      weakPoint,
      cost: jobCost(belief.plan.components[components[0]!]!.weakPoint, ground.prices),
      byLife: Array.from({ length: LIFE_SHARES }, (_, share) =>
        mixCounts(
          byUse.map((each) => each[share]!),
          weights,
        ),
      ),
    }
  })
}

/** What the nodes weigh where only one fifth of all mass is left, fifth by fifth. */
const fifthsOf: WeightsAsked = ({ tables, weight }) => {
  const order = shortestFirst(tables)
  const total = weight.reduce((a, b) => a + b, 0)
  return Array.from({ length: LIFE_SHARES }, (_, share) => {
    const [from, to] = [(share / LIFE_SHARES) * total, ((share + 1) / LIFE_SHARES) * total]
    const left = new Float64Array(weight.length)
    let before = 0
    for (const k of order) {
      const after = before + weight[k]!
      left[k] = Math.max(Math.min(after, to) - Math.max(before, from), 0)
      before = after
    }
    return left
  })
}

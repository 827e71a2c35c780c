/** What lies ahead of each component of a vehicle: lived through once, however much is then asked of it. */
import { LifeCourse } from '@/lib/model/life-course'
import type { LifeTables } from '@/lib/model/life-table'
import type { Strands } from '@/lib/model/strands'
import { renewedLife } from '@/lib/scoring/life-start'
import type { AdviceGround } from '../advice'
import type { JobCost } from '../costs'
import { OncePerGround } from './once-per-ground'

const present = new OncePerGround((_: AdviceGround) => new Map<Strands, LifeCourse>())

/**
 * Of a component as it is believed now; one for positions that share their life. A ground is of one moment: its vehicle
 * is not followed on.
 */
export function courseOf(ground: AdviceGround, component: number): LifeCourse {
  const courses = present.of(ground)
  const nodes = ground.vehicle.belief.beliefs[component]!.currentNodes()
  const course = courses.get(nodes) ?? new LifeCourse(nodes)
  courses.set(nodes, course)
  return course
}

const renewed = new WeakMap<LifeTables, Map<number, LifeCourse>>()

/** Of a part that has just been renewed; one for all vehicles. */
export function courseFromNew(original: LifeTables, success: number): LifeCourse {
  const courses = renewed.get(original) ?? new Map<number, LifeCourse>()
  renewed.set(original, courses)
  const course = courses.get(success) ?? new LifeCourse(renewedLife(original, success))
  courses.set(success, course)
  return course
}

/** L − C_p: what leaving a component alone over a step costs, at the parameter nodes. */
export type LossAfter = (step: number) => number

/** @param rate g* */
export const lossAfter =
  (course: LifeCourse, { planned, unplanned }: JobCost, rate: number): LossAfter =>
  (step) => {
    const { fails, units } = course.within(step)
    return fails * (unplanned - planned) - rate * units
  }

/**
 * The least loss over some steps, and the first step at which it is met.
 *
 * @param steps ascending: the far ones take longest to look at
 * @param isEnough whether a least so small can still matter; a smaller one matters no more
 * @returns null where it cannot: then what is farther is not looked at
 */
export function leastOver(
  loss: LossAfter,
  steps: readonly number[],
  isEnough: (least: number) => boolean,
): { loss: number; step: number } | null {
  const least = { loss: Number.POSITIVE_INFINITY, step: Number.NaN }
  for (const step of steps) {
    const here = loss(step)
    if (!(here < least.loss)) continue
    Object.assign(least, { loss: here, step })
    if (!isEnough(here)) return null
  }
  return least
}

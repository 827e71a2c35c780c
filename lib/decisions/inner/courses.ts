/** What lies ahead of each component of a vehicle: lived through once, however much is then asked of it. */
import { LifeCourse } from '@/lib/model/life-course'
import type { LifeTables } from '@/lib/model/life-table'
import { renewedLife } from '@/lib/scoring/life-start'
import { type AdviceGround, type ComponentDecision, decisionsBeforeLooks } from '../advice'
import type { JobCost } from '../costs'

const present = new WeakMap<AdviceGround, LifeCourse[]>()

/** Of a component as it is believed now. A ground is of one moment: its vehicle is not followed on. */
export function courseOf(ground: AdviceGround, component: number): LifeCourse {
  const courses = present.get(ground) ?? []
  present.set(ground, courses)
  courses[component] ??= new LifeCourse(ground.vehicle.belief.beliefs[component]!.currentNodes())
  return courses[component]
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

/** L − C_p: what leaving a component alone over each step costs, at the parameter nodes. @param rate g* */
export function lossesOf(
  course: LifeCourse,
  steps: readonly number[],
  { planned, unplanned }: JobCost,
  rate: number,
): number[] {
  return steps.map((step) => {
    const { fails, units } = course.within(step)
    return fails * (unplanned - planned) - rate * units
  })
}

const decided = new WeakMap<AdviceGround, ComponentDecision[]>()

/** What is to be done of each component whatever a look would say: asked once for a visit and for the plan. */
export function decisionsOf(ground: AdviceGround): ComponentDecision[] {
  const found = decided.get(ground) ?? decisionsBeforeLooks(ground)
  decided.set(ground, found)
  return found
}

/** What must be done before a vehicle is driven at all, and the vehicle after it: nothing is covered before that. */
import { type Place, placeOf } from '@/lib/records/place-of'
import { type AdviceGround, decisionsBeforeLooks } from './advice'
import { jobCost } from './costs'
import { supposingRenewed } from './supposing'

/** A job without which the vehicle must not be driven. */
export type FirstJob = { name: string; place: Place; position: number; cost: number }

export interface DoneFirst {
  /** Null where it may be driven. */
  first: { jobs: FirstJob[]; cost: number } | null
  after: AdviceGround
}

/** The jobs of the components for which `stop` is advised, at the price of the planned job. */
export function doneFirst(ground: AdviceGround): DoneFirst {
  const { components, family } = ground.vehicle.belief.plan
  const stopped = decisionsBeforeLooks(ground).flatMap(({ advice }, c) => (advice === 'stop' ? [c] : []))
  if (stopped.length === 0) return { first: null, after: ground }
  const jobs = stopped.map((c) => {
    const { weakPoint, position } = components[c]!
    const place = placeOf(weakPoint.positions, family.cylinders)
    return { name: weakPoint.component, place, position, cost: jobCost(weakPoint, ground.prices).planned }
  })
  const cost = jobs.reduce((sum, each) => sum + each.cost, 0)
  return { first: { jobs, cost }, after: supposingRenewed(ground, new Set(stopped)) }
}

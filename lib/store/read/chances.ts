import type { Advice } from '@/lib/decisions/advice'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import type { OrganisationScope } from '../with-organisation'

/** The latest chance of a component at the horizon that has a history, and what is advised for it and its vehicle. */
export type Chance = {
  unit: string
  weakPoint: string
  position: number
  pFail: number
  advice: Advice
  vehicleAdvice: Advice
}

/** The chances of some vehicles. */
export function readChances({ tx }: OrganisationScope, units: string[]): Promise<Chance[]> {
  return tx.$queryRaw<Chance[]>`
    select vehicle.unit, score.weak_point as "weakPoint", score.position, score.p_fail as "pFail", score.advice,
      whole.advice as "vehicleAdvice"
    from vehicles vehicle
    join component_scores score on score.vehicle_id = vehicle.id and score.horizon_days = ${HISTORY_HORIZON_DAYS}
    join vehicle_scores whole on whole.vehicle_id = vehicle.id and whole.horizon_days = ${HISTORY_HORIZON_DAYS}
    where vehicle.unit = any(${units}::text[])
    order by vehicle.sequence, score.weak_point, score.position`
}

/** How far each clock runs within a horizon, with what is not known about future use. */
import { normalRule } from '@/lib/model/gauss-hermite'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import type { ClockReading } from './vehicle-belief'

/** A horizon in days (use uncertain) or in distance. */
export type Horizon = { days: number } | { km: number }

export interface UsageNode {
  weight: number
  ahead: ClockReading
}

const RULE = normalRule(3)

/**
 * What the clocks add within a horizon: three lognormal nodes of the rate of use. In a horizon in distance the
 * distance is certain and the time is not.
 */
export function usageNodes(clock: VehicleClock, horizon: Horizon): UsageNode[] {
  const { logSd } = clock.usage
  if (logSd === 0) return [{ weight: 1, ahead: aheadAt(clock, horizon, 1) }]
  return RULE.nodes.map((z, i) => ({
    weight: RULE.weights[i]!,
    ahead: aheadAt(clock, horizon, Math.exp(logSd * z)),
  }))
}

/** The same at the mean rate: for decisions, which are about expected costs. */
export function meanAhead(clock: VehicleClock, horizon: Horizon): ClockReading {
  return aheadAt(clock, horizon, Math.exp(clock.usage.logSd ** 2 / 2))
}

function aheadAt(clock: VehicleClock, horizon: Horizon, factor: number): ClockReading {
  if ('days' in horizon) {
    const { km, hours } = clock.ahead(horizon.days)
    return { distance: km * factor, hours: hours * factor, time: horizon.days }
  }
  const time = clock.daysForKm(horizon.km) / factor
  const perDay = clock.ahead(1)
  // Distance over hours is the vehicle's own ratio; a standing vehicle's hours stand too.
  const hours = perDay.km > 0 ? (horizon.km * perDay.hours) / perDay.km : 0
  return { distance: horizon.km, hours, time }
}

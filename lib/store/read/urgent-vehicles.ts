import { HISTORY_HORIZON_DAYS } from '../horizons'
import type { OrganisationScope } from '../with-organisation'

/** Advice for which a vehicle has to come. */
export type Urgent = 'stop' | 'book'

/** The vehicles that must not be driven or are to be booked in, by their numbers. */
export async function readUrgentVehicles({ tx }: OrganisationScope): Promise<Map<string, Urgent>> {
  const found = await tx.$queryRaw<{ unit: string; advice: Urgent }[]>`
    select unit, advice from vehicle_scores
    where horizon_days = ${HISTORY_HORIZON_DAYS} and assessed and advice in ('stop', 'book')`
  return new Map(found.map(({ unit, advice }) => [unit, advice]))
}

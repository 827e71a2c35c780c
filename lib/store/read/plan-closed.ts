import type { Closed } from '@/lib/decisions/plan-weeks'
import { type Day, formatDay } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** Days on which a vehicle is not to come. */
export type StoredClosed = Closed & { id: string; madeAt: Date }

/** Those that are not over on a day, in their order. */
export async function readPlanClosed({ tx }: OrganisationScope, from: Day): Promise<StoredClosed[]> {
  return tx.$queryRaw<StoredClosed[]>`
    select closed.id::text, vehicle.unit, closed.from_on - date '1970-01-01' as "from",
      closed.until_on - date '1970-01-01' as "until", closed.why, closed.made_at as "madeAt"
    from plan_closed closed join vehicles vehicle on vehicle.id = closed.vehicle_id and vehicle.withdrawn_at is null
    where closed.undone_at is null and closed.until_on >= ${formatDay(from)}::date
    order by closed.from_on, vehicle.unit, closed.id`
}

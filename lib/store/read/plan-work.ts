import type { BookedWork } from '@/lib/decisions/plan-weeks'
import { type Day, formatDay } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** Other work that is booked. */
export type StoredWork = BookedWork & { id: string; what: string; madeAt: Date }

/** Other work from a week on, in the order of weeks and bays. */
export async function readPlanWork({ tx }: OrganisationScope, from: Day): Promise<StoredWork[]> {
  return tx.$queryRaw<StoredWork[]>`
    select work.id::text, vehicle.unit, work.what, work.week_on - date '1970-01-01' as "weekOn", work.bay, work.hours,
      work.made_at as "madeAt"
    from plan_work work left join vehicles vehicle on vehicle.id = work.vehicle_id and vehicle.withdrawn_at is null
    where work.undone_at is null and work.week_on >= ${formatDay(from)}::date
    order by work.week_on, work.bay, work.made_at, work.id`
}

import type { Closed } from '@/lib/decisions/plan-weeks'
import { formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/**
 * Says that a vehicle is not to come, or is not available, on some days.
 *
 * @returns its id; null where there is no such vehicle
 */
export async function closePlanDays(
  { tx, organisation }: OrganisationScope,
  { unit, from, until, why }: Closed,
  { now, by }: { now: Date; by: string | null },
): Promise<string | null> {
  const [vehicle] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles where unit = ${unit} and withdrawn_at is null`
  if (!vehicle) return null
  const id = newId(now)
  await tx.$executeRaw`
    insert into plan_closed (organisation_id, id, vehicle_id, from_on, until_on, why, made_at, made_by)
    values (${organisation}::uuid, ${id}::uuid, ${vehicle.id}::uuid, ${formatDay(from)}::date, ${formatDay(until)}::date,
      ${why}, ${now}, ${by}::uuid)`
  return id
}

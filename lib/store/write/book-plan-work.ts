import type { BookedWork } from '@/lib/decisions/plan-weeks'
import { formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/**
 * Books other work.
 *
 * @returns its id; null where it names a vehicle that is not there
 */
export async function bookPlanWork(
  { tx, organisation }: OrganisationScope,
  { unit, weekOn, bay, hours, what }: BookedWork & { what: string },
  { now, by }: { now: Date; by: string | null },
): Promise<string | null> {
  const [vehicle] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles where unit = ${unit} and withdrawn_at is null`
  if (unit !== null && !vehicle) return null
  const id = newId(now)
  await tx.$executeRaw`
    insert into plan_work (organisation_id, id, vehicle_id, what, week_on, bay, hours, made_at, made_by)
    values (${organisation}::uuid, ${id}::uuid, ${vehicle?.id ?? null}::uuid, ${what}, ${formatDay(weekOn)}::date, ${bay},
      ${hours}, ${now}, ${by}::uuid)`
  return id
}

import { formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { PlanVisitRow } from '../read/plan-visits'
import type { OrganisationScope } from '../with-organisation'

/** Puts a visit in the place of the one with its id, or adds it. */
export async function putPlanVisit(
  { tx, organisation }: OrganisationScope,
  visit: PlanVisitRow,
): Promise<void> {
  const { id, vehicleId, weekOn, bay, hours, gain, jobs, pinned, promisedOn, promisedWhom, doneOn } = visit
  await tx.$executeRaw`
    insert into plan_visits (organisation_id, id, vehicle_id, week_on, bay, hours, gain, jobs, pinned, promised_on,
      promised_whom, done_on, made_at, made_by)
    values (${organisation}::uuid, ${id}::uuid, ${vehicleId}::uuid, ${formatDay(weekOn)}::date, ${bay}, ${hours}, ${gain},
      ${JSON.stringify(jobs)}::jsonb, ${pinned}, ${promisedOn === null ? null : formatDay(promisedOn)}::date,
      ${promisedWhom}, ${doneOn === null ? null : formatDay(doneOn)}::date, ${visit.madeAt}, ${visit.madeBy}::uuid)
    on conflict (organisation_id, id) do update set vehicle_id = excluded.vehicle_id, week_on = excluded.week_on,
      bay = excluded.bay, hours = excluded.hours, gain = excluded.gain, jobs = excluded.jobs, pinned = excluded.pinned,
      promised_on = excluded.promised_on, promised_whom = excluded.promised_whom, done_on = excluded.done_on,
      made_at = excluded.made_at, made_by = excluded.made_by`
}

/** Adds a visit of a vehicle by its number; null where there is no such vehicle. */
export async function addPlanVisit(
  scope: OrganisationScope,
  unit: string,
  visit: Omit<PlanVisitRow, 'id' | 'vehicleId'>,
): Promise<string | null> {
  const [vehicle] = await scope.tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles where unit = ${unit} and withdrawn_at is null`
  if (!vehicle) return null
  const id = newId(visit.madeAt)
  await putPlanVisit(scope, { ...visit, id, vehicleId: vehicle.id })
  return id
}

/** Takes visits off the plan. */
export async function dropPlanVisits({ tx }: OrganisationScope, ids: readonly string[]): Promise<void> {
  await tx.$executeRaw`delete from plan_visits where id = any(${[...ids]}::uuid[])`
}

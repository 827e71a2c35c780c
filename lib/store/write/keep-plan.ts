import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { PlanContent } from '../read/plan-in-force'
import type { OrganisationScope } from '../with-organisation'

/** For a plan that no job has made: one begun with a visit that somebody put on it. */
export const newPlanId = (now: Date): string => newId(now)

export type NewPlan = {
  /** That of the job which makes it. */
  id: string
  firstDay: Day
  weeks: number
  asOf: Day
  gain: number
  bound: number | null
  content: PlanContent
  /** When what it rests on was read. */
  madeAt: Date
  by: string | null
}

/**
 * Keeps a plan: the best so far while it is being made, or one that is in force from then on.
 *
 * @param inForceAt null while it is being made
 */
export async function keepPlan(
  { tx, organisation }: OrganisationScope,
  { id, firstDay, weeks, asOf, gain, bound, content, madeAt, by }: NewPlan,
  inForceAt: Date | null,
): Promise<void> {
  await tx.$executeRaw`
    insert into plans (organisation_id, id, first_day, weeks, as_of, gain, bound, content, made_at, made_by, in_force_at)
    values (${organisation}::uuid, ${id}::uuid, ${formatDay(firstDay)}::date, ${weeks}, ${formatDay(asOf)}::date, ${gain},
      ${bound}::float, ${JSON.stringify(content)}, ${madeAt}, ${by}::uuid, ${inForceAt}::timestamptz)
    on conflict (organisation_id, id) do update set first_day = excluded.first_day, weeks = excluded.weeks,
      as_of = excluded.as_of, gain = excluded.gain, bound = excluded.bound, content = excluded.content,
      made_at = excluded.made_at, in_force_at = excluded.in_force_at`
  // A day's plans would fill the database otherwise: what people see is the one in force, with what they did since.
  if (inForceAt !== null) await tx.$executeRaw`delete from plans where id <> ${id}::uuid`
}

/** Puts other jobs in the place of those that a plan rests on. */
export async function putPlanJobs(
  { tx }: OrganisationScope,
  { id, content }: { id: string; content: PlanContent },
): Promise<void> {
  await tx.$executeRaw`update plans set content = ${JSON.stringify(content)} where id = ${id}::uuid`
}

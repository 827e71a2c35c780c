import { HISTORY_HORIZON_DAYS } from '../horizons'
import type { OrganisationScope } from '../with-organisation'

/** What was booked or closed since an instant, or taken back: of which vehicle (null: of none), and when. */
export type BookingChange = { unit: string | null; at: Date }

/** What was booked, forbidden or noted as away since an instant, and what of that was taken back; but not what was both. */
export function readBookingChanges({ tx }: OrganisationScope, since: Date): Promise<BookingChange[]> {
  return tx.$queryRaw<BookingChange[]>`
    with said as (
      select organisation_id, vehicle_id, made_at, undone_at from plan_work
      union all select organisation_id, vehicle_id, made_at, undone_at from plan_closed)
    select vehicle.unit, coalesce(said.undone_at, said.made_at) as at
    from said left join vehicles vehicle
      on vehicle.organisation_id = said.organisation_id and vehicle.id = said.vehicle_id
    where (said.made_at > ${since}) <> (said.undone_at is not null and said.undone_at > ${since})
    order by 2, 1`
}

/** Parts of which something was said since an instant, or taken back, each with the first time. */
export function readStatedParts(
  { tx }: OrganisationScope,
  since: Date,
): Promise<{ part: string; at: Date }[]> {
  return tx.$queryRaw<{ part: string; at: Date }[]>`
    select part, min(greatest(entered_at, withdrawn_at)) as at from part_lines
    where (entered_at > ${since}) <> (withdrawn_at is not null and withdrawn_at > ${since})
    group by part order by part`
}

/** When the advice on one of these vehicles first changed after an instant; null where no history tells. */
export async function readFirstAdviceChange(
  { tx }: OrganisationScope,
  units: readonly string[],
  since: Date,
): Promise<Date | null> {
  const [found] = await tx.$queryRaw<{ at: Date | null }[]>`
    with told as (
      select history.scored_at, history.advice, lag(history.advice) over (
        partition by history.vehicle_id, history.weak_point, history.position order by history.scored_at) as before
      from score_history history join vehicles vehicle
        on vehicle.organisation_id = history.organisation_id and vehicle.id = history.vehicle_id
      where history.horizon_days = ${HISTORY_HORIZON_DAYS} and vehicle.unit = any(${units}::text[]))
    select min(scored_at) as at from told where scored_at > ${since} and advice is distinct from before`
  return found?.at ?? null
}

import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A job that is planned for a day, on the plan or by an appointment; no positions: all of them. */
export type PlannedJob = { unit: string; weakPoint: string; positions: number[]; on: Day }

/** Jobs on open visits of the plan (on the first day of its week), and proposals that are booked, unless work on record has done them. */
export async function readPlannedJobs({ tx }: OrganisationScope): Promise<PlannedJob[]> {
  return tx.$queryRaw<PlannedJob[]>`
    with planned as (
      select visit.vehicle_id, job->>'weakPoint' as weak_point,
        array(select jsonb_array_elements_text(job->'positions')::int) as positions, visit.week_on as on_day,
        visit.made_at::date as since
      from plan_visits visit cross join lateral jsonb_array_elements(visit.jobs) as job
      where visit.done_on is null
      union all
      select proposal.vehicle_id, proposal.weak_point, proposal.positions, last.on_day, proposal.made_on
      from proposals proposal
        cross join lateral (
          select act, on_day from proposal_acts act where act.proposal_id = proposal.id and act.undone_at is null
          order by act.at desc, act.id desc limit 1) last
      where last.act = 'booked'
    )
    select vehicle.unit, planned.weak_point as "weakPoint", planned.positions, planned.on_day - date '1970-01-01' as "on"
    from planned join vehicles vehicle on vehicle.id = planned.vehicle_id and vehicle.withdrawn_at is null
    where not exists (
      select from repairs repair
      where repair.vehicle_id = planned.vehicle_id and repair.weak_point = planned.weak_point
        and repair.done_on >= planned.since and repair.superseded_at is null and repair.withdrawn_at is null
        and (cardinality(repair.positions) = 0 or cardinality(planned.positions) = 0
          or repair.positions && planned.positions))
    order by planned.on_day, vehicle.unit`
}

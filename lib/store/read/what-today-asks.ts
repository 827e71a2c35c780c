import type { Day } from '@/lib/units/dates'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'

/** What the scores ask for, over the whole organisation. */
export type WhatTodayAsks = {
  /** The day that the scores speak of; null before the first. */
  asOf: Day | null
  vehicles: number
  byStanding: Record<Standing, number>
  /** What leaving everything that should be booked in for one slot would cost. */
  costOfNotBooking: number
  /** Vehicles that no full scan has ever seen. */
  neverScanned: number
}

/** Counts the vehicles by what is advised for them. */
export async function readWhatTodayAsks(
  { tx }: OrganisationScope,
  horizonDays: number,
): Promise<WhatTodayAsks> {
  const groups = await tx.$queryRaw<
    { standing: Standing; vehicles: number; neverScanned: number; asOf: Day }[]
  >`
    select case when assessed then advice else 'not-assessed' end as standing, count(*)::int as vehicles,
      (count(*) filter (where assessed and last_full_scan_on is null))::int as "neverScanned",
      max(as_of) - date '1970-01-01' as "asOf"
    from vehicle_scores where horizon_days = ${horizonDays} group by 1`
  const [booked] = await tx.$queryRaw<{ cost: number }[]>`
    select coalesce(sum(cost_of_waiting), 0) as cost from component_scores
    where horizon_days = ${horizonDays} and advice = 'book' and cost_of_waiting > 0`
  const count = (standing: Standing) => groups.find((group) => group.standing === standing)?.vehicles ?? 0
  return {
    asOf: groups[0]?.asOf ?? null,
    vehicles: groups.reduce((sum, group) => sum + group.vehicles, 0),
    byStanding: Object.fromEntries(STANDINGS.map((each) => [each, count(each)])) as Record<Standing, number>,
    costOfNotBooking: booked?.cost ?? 0,
    neverScanned: groups.reduce((sum, group) => sum + group.neverScanned, 0),
  }
}

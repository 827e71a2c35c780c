import { librarySchema } from '@/lib/records/library-schema'
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
  /**
   * Its 80 % band. The lives of one weak point are learned together, so what is believed of them is too high or too low
   * in all vehicles at once: their bands add up. Weak points err apart: theirs are put together by squares.
   */
  bandOfNotBooking: { low: number; high: number }
  /** Vehicles that no full scan has ever seen. */
  neverScanned: number
  /** Vehicles of a known engine that nobody has ever looked at, out of so many. */
  neverLookedAt: number
  assessed: number
  /** What a scan takes, in hours. */
  scanHours: number
}

/** Counts the vehicles by what is advised for them. */
export async function readWhatTodayAsks(
  { tx, organisation }: OrganisationScope,
  horizonDays: number,
): Promise<WhatTodayAsks> {
  const groups = await tx.$queryRaw<
    { standing: number; vehicles: number; neverScanned: number; neverLookedAt: number; asOf: Day }[]
  >`
    select urgency as standing, count(*)::int as vehicles,
      (count(*) - count(last_full_scan_on))::int as "neverScanned",
      (count(*) - count(last_looked_at_on))::int as "neverLookedAt",
      max(as_of) - date '1970-01-01' as "asOf"
    from vehicle_scores where horizon_days = ${horizonDays} group by 1`
  const [found] = await tx.$queryRaw<{ cost: number; below: number; above: number; hours: number | null }[]>`
    with booked as (
      select sum(cost_of_waiting) as cost, sum(cost_of_waiting - waiting_low) as below,
        sum(waiting_high - cost_of_waiting) as above
      from component_scores
      where horizon_days = ${horizonDays} and advice = 'book' and advice <> 'fine' and cost_of_waiting > 0
      group by weak_point)
    select together.*, coalesce(settings->'looks'->'scan'->>'hours', library.content->'looks'->'scan'->>'hours')::float as hours
    from (select coalesce(sum(cost), 0) as cost, sqrt(coalesce(sum(below * below), 0)) as below,
        sqrt(coalesce(sum(above * above), 0)) as above from booked) together,
      organisations left join libraries library on library.in_force where organisations.id = ${organisation}::uuid`
  const { cost, below, above, hours } = found ?? { cost: 0, below: 0, above: 0, hours: null }
  const vehicles = (of = groups) => of.reduce((sum, group) => sum + group.vehicles, 0)
  const standing = (each: Standing) =>
    groups.filter((group) => group.standing === STANDINGS.indexOf(each) + 1)
  const known = groups.filter((group) => !standing('not-assessed').includes(group))
  return {
    asOf: groups[0]?.asOf ?? null,
    vehicles: vehicles(),
    byStanding: Object.fromEntries(STANDINGS.map((each) => [each, vehicles(standing(each))])) as Record<
      Standing,
      number
    >,
    costOfNotBooking: cost,
    bandOfNotBooking: { low: cost - below, high: cost + above },
    neverScanned: known.reduce((sum, group) => sum + group.neverScanned, 0),
    neverLookedAt: known.reduce((sum, group) => sum + group.neverLookedAt, 0),
    assessed: vehicles(known),
    scanHours: hours ?? librarySchema.shape.looks.parse({}).scan.hours,
  }
}

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
  const [found] = await tx.$queryRaw<{ cost: number; hours: number | null }[]>`
    select (select coalesce(sum(cost_of_waiting), 0) from component_scores
        where horizon_days = ${horizonDays} and advice = 'book' and advice <> 'fine' and cost_of_waiting > 0) as cost,
      coalesce(settings->'looks'->'scan'->>'hours', library.content->'looks'->'scan'->>'hours')::float as hours
    from organisations left join libraries library on library.in_force where organisations.id = ${organisation}::uuid`
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
    costOfNotBooking: found?.cost ?? 0,
    neverScanned: known.reduce((sum, group) => sum + group.neverScanned, 0),
    neverLookedAt: known.reduce((sum, group) => sum + group.neverLookedAt, 0),
    assessed: vehicles(known),
    scanHours: found?.hours ?? librarySchema.shape.looks.parse({}).scan.hours,
  }
}

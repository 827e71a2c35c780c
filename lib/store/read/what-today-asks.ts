import { librarySchema } from '@/lib/records/library-schema'
import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'
import { readStandings, type StandingGroup } from './standings'

/** What the scores ask for, over the whole organisation. */
export type WhatTodayAsks = {
  /** The day that the scores speak of; null before the first. */
  asOf: Day | null
  /** A text that changes with every score. */
  version: string
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
  /** Whether any work on a part that the library knows is on record, and any breakdown. */
  hasWork: boolean
  hasBreakdowns: boolean
}

type Found = { cost: number; below: number; above: number; hours: number | null } & Pick<
  WhatTodayAsks,
  'hasWork' | 'hasBreakdowns'
>
const NOTHING: Found = { cost: 0, below: 0, above: 0, hours: null, hasWork: false, hasBreakdowns: false }

const LIVE_WORK = Prisma.sql`superseded_at is null and withdrawn_at is null and weak_point <> 'other'`

/** Counts the vehicles by what is advised for them. */
export async function readWhatTodayAsks(
  scope: OrganisationScope,
  horizonDays: number,
): Promise<WhatTodayAsks> {
  const { tx, organisation } = scope
  const { groups, asOf, version } = await readStandings(scope, horizonDays)
  const [found] = await tx.$queryRaw<Found[]>`
    with booked as (
      select sum(cost_of_waiting) as cost, sum(cost_of_waiting - waiting_low) as below,
        sum(waiting_high - cost_of_waiting) as above
      from component_scores
      where horizon_days = ${horizonDays} and advice = 'book' and advice <> 'fine' and cost_of_waiting > 0
      group by weak_point)
    select together.*, coalesce(settings->'looks'->'scan'->>'hours', library.content->'looks'->'scan'->>'hours')::float as hours,
      exists (select from repairs where ${LIVE_WORK}) as "hasWork",
      exists (select from repairs where ${LIVE_WORK} and found = 'failed') as "hasBreakdowns"
    from (select coalesce(sum(cost), 0) as cost, sqrt(coalesce(sum(below * below), 0)) as below,
        sqrt(coalesce(sum(above * above), 0)) as above from booked) together,
      organisations left join libraries library on library.in_force where organisations.id = ${organisation}::uuid`
  const { cost, below, above, hours, hasWork, hasBreakdowns } = found ?? NOTHING
  const known = groups.filter(({ standing }) => standing !== 'not-assessed')
  const sum = (of: StandingGroup[], field: 'vehicles' | 'neverScanned' | 'neverLookedAt') =>
    of.reduce((total, group) => total + group[field], 0)
  const standingAt = (each: Standing) => groups.filter(({ standing }) => standing === each)
  return {
    asOf,
    version,
    vehicles: sum(groups, 'vehicles'),
    byStanding: Object.fromEntries(
      STANDINGS.map((each) => [each, sum(standingAt(each), 'vehicles')]),
    ) as Record<Standing, number>,
    costOfNotBooking: cost,
    bandOfNotBooking: { low: cost - below, high: cost + above },
    neverScanned: sum(known, 'neverScanned'),
    neverLookedAt: sum(known, 'neverLookedAt'),
    assessed: sum(known, 'vehicles'),
    scanHours: hours ?? librarySchema.shape.looks.parse({}).scan.hours,
    hasWork,
    hasBreakdowns,
  }
}

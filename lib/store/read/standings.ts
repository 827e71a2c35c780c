import type { Day } from '@/lib/units/dates'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'

/** Vehicles of one standing. */
export type StandingGroup = {
  standing: Standing
  vehicles: number
  neverScanned: number
  neverLookedAt: number
}

export type Standings = {
  groups: StandingGroup[]
  /** The day that the scores speak of; null before the first. */
  asOf: Day | null
  /** A text that changes with every score. */
  version: string
}

type Found = Omit<StandingGroup, 'standing'> & { urgency: number; asOf: Day; scored: string }

/** The scores at one horizon at a glance: an index alone answers. */
export async function readStandings({ tx }: OrganisationScope, horizonDays: number): Promise<Standings> {
  const found = await tx.$queryRaw<Found[]>`
    select urgency, count(*)::int as vehicles,
      (count(*) - count(last_full_scan_on))::int as "neverScanned",
      (count(*) - count(last_looked_at_on))::int as "neverLookedAt",
      max(as_of) - date '1970-01-01' as "asOf", sum(scored_at - timestamptz '2026-01-01')::text as scored
    from vehicle_scores where horizon_days = ${horizonDays} group by 1 order by 1`
  return {
    groups: found.map(({ urgency, vehicles, neverScanned, neverLookedAt }) => ({
      ...{ vehicles, neverScanned, neverLookedAt },
      standing: STANDINGS[urgency - 1] ?? 'not-assessed',
    })),
    asOf: found.length === 0 ? null : Math.max(...found.map(({ asOf }) => asOf)),
    version: found.map(({ urgency, vehicles, scored }) => `${urgency}×${vehicles}@${scored}`).join(' '),
  }
}

import type { ChanceBy } from '@/lib/decisions/parts-outlook'
import type { OrganisationScope } from '../with-organisation'

/** A component of a vehicle with the chances that are kept of it, by rising horizon. */
export type KeptChances = {
  unit: string
  family: string
  weakPoint: string
  position: number
  chances: ChanceBy[]
}

type Found = Omit<KeptChances, 'chances'> & { days: number[]; fail: number[]; low: number[]; high: number[] }

/**
 * The chances of every component of some weak points, of all vehicles that are scored.
 *
 * @param of engine family and weak point, side by side
 * @param horizons in days, those for which scores are kept
 */
export async function readPartChances(
  { tx }: OrganisationScope,
  of: readonly { family: string; weakPoint: string }[],
  horizons: readonly number[],
): Promise<KeptChances[]> {
  const found = await tx.$queryRaw<Found[]>`
    select vehicle.unit, vehicle.family, score.weak_point as "weakPoint", score.position,
      array_agg(score.horizon_days order by score.horizon_days) as days,
      array_agg(score.p_fail order by score.horizon_days) as fail,
      array_agg(score.p_low order by score.horizon_days) as low,
      array_agg(score.p_high order by score.horizon_days) as high
    from component_scores score
      join vehicles vehicle on vehicle.id = score.vehicle_id and vehicle.withdrawn_at is null
      join unnest(${of.map(({ family }) => family)}::text[], ${of.map(({ weakPoint }) => weakPoint)}::text[])
        as wanted(family, weak_point) on wanted.family = vehicle.family and wanted.weak_point = score.weak_point
    where score.horizon_days = any(${horizons}::int[])
    group by vehicle.unit, vehicle.family, score.weak_point, score.position`
  return found.map(({ days, fail, low, high, ...component }) => ({
    ...component,
    chances: days.map((each, i) => ({ days: each, pFail: fail[i]!, pLow: low[i]!, pHigh: high[i]! })),
  }))
}

/** In one text, on which scores anything rests now that is reckoned from all of them: other text, other scores. */
export async function readScoresState({ tx }: OrganisationScope): Promise<string> {
  const [found] = await tx.$queryRaw<{ state: string }[]>`
    select concat_ws(' ', count(*), max(score.scored_at), min(score.as_of), max(score.library_version)) as state
    from vehicle_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
    where score.horizon_days = 90 and vehicle.withdrawn_at is null`
  return found?.state ?? ''
}

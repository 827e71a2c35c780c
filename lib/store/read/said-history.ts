import type { Advice } from '@/lib/decisions/advice'
import type { Day } from '@/lib/units/dates'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import type { OrganisationScope } from '../with-organisation'

/** A score of one component that was kept: what was said on a day, and when on it. */
export type KeptScore = {
  asOf: Day
  scoredAt: Date
  pFail: number
  pLow: number
  pHigh: number
  advice: Advice
}

type Asked = { unit: string; weakPoint: string; position: number; before: Day }

/**
 * What was said of a component on the days before one, the earliest first; each stood until the next one. They are
 * chances at the horizon whose scores have a history, kept where the advice changed or the chance moved by a tenth.
 */
export function readSaidHistory(
  { tx }: OrganisationScope,
  { unit, weakPoint, position, before }: Asked,
): Promise<KeptScore[]> {
  return tx.$queryRaw<KeptScore[]>`
    select past.as_of - '1970-01-01'::date as "asOf", past.scored_at as "scoredAt", past.p_fail as "pFail",
      past.p_low as "pLow", past.p_high as "pHigh", past.advice
    from score_history past join vehicles vehicle on vehicle.id = past.vehicle_id
    where vehicle.unit = ${unit} and past.weak_point = ${weakPoint} and past.position = ${position}
      and past.horizon_days = ${HISTORY_HORIZON_DAYS} and past.as_of < '1970-01-01'::date + ${before}::int
    order by past.scored_at`
}

import { Prisma } from '@/prisma/client/client'
import { newId } from '../inner/new-id'
import { type RaisedStop, tellOfStops } from '../inner/tell-of-stop'
import type { OrganisationScope } from '../with-organisation'

/** The horizon whose chance is told beside a stop; the advice itself is the same at each. */
const TOLD_HORIZON_DAYS = 90

/**
 * Raises a notice for every component whose stored advice is `stop` and which has none open. One that a person has
 * released is raised again where the advice had been another since, or where a code, a look or a repair was entered
 * after the release and it is still `stop`; a mere reading does not. A notice never lapses: only a person releases it.
 * Where the organisation has an address that is told of stops, what to tell it is written in the same transaction.
 *
 * @param units the vehicles whose scores were written; every one where it is left out
 * @returns how many were raised
 */
export async function raiseStops(
  scope: OrganisationScope,
  now: Date,
  units: string[] | null = null,
): Promise<number> {
  const { tx, organisation } = scope
  const due = await tx.$queryRaw<(Omit<RaisedStop, 'noticeId'> & { reason: string })[]>`
    select distinct on (score.vehicle_id, score.weak_point, score.position)
      score.vehicle_id::text as "vehicleId", score.weak_point as "weakPoint", score.position, score.speaks as reason,
      vehicle.unit, vehicle.family, score.p_fail as "pFail", score.p_low as "pLow", score.p_high as "pHigh",
      score.horizon_days as "horizonDays"
    from component_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
    where score.advice = 'stop' and (${units}::text[] is null or vehicle.unit = any(${units}::text[]))
      and not exists (
        select from stop_notices notice
        where notice.vehicle_id = score.vehicle_id and notice.weak_point = score.weak_point
          and notice.position = score.position and (notice.released_at is null or not (${HAS_MOVED_ON})))
    order by score.vehicle_id, score.weak_point, score.position, abs(score.horizon_days - ${TOLD_HORIZON_DAYS})`
  const raised: RaisedStop[] = []
  for (const { reason, ...stop } of due) {
    const { vehicleId, weakPoint, position } = stop
    const noticeId = newId(now)
    const added = await tx.$executeRaw`
      insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
      values (${organisation}::uuid, ${noticeId}::uuid, ${vehicleId}::uuid, ${weakPoint}, ${position}, ${now},
        ${reason})
      on conflict do nothing`
    if (added > 0) raised.push({ ...stop, noticeId })
  }
  await tellOfStops(scope, raised, now)
  return due.length
}

const enteredSince = (kind: 'codes' | 'checks' | 'repairs') => Prisma.sql`
  exists (select from ${Prisma.raw(kind)} record
    where record.vehicle_id = score.vehicle_id and record.entered_at > notice.released_at)`

/** Whether things have changed since a notice was released, so that it no longer answers for what is advised now. */
const HAS_MOVED_ON = Prisma.sql`
  exists (select from score_history past
    where past.vehicle_id = score.vehicle_id and past.weak_point = score.weak_point
      and past.position = score.position and past.advice <> 'stop' and past.scored_at > notice.raised_at)
  or ${enteredSince('codes')} or ${enteredSince('checks')} or ${enteredSince('repairs')}`

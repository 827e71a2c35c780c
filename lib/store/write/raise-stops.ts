import { Prisma } from '@/prisma/client/client'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/**
 * Raises a notice for every component whose stored advice is `stop` and which has none open. One that a person has
 * released is raised again where the advice had been another since, or where a code, a look or a repair was entered
 * after the release and it is still `stop`; a mere reading does not. A notice never lapses: only a person releases it.
 *
 * @param units the vehicles whose scores were written; every one where it is left out
 * @returns how many were raised
 */
export async function raiseStops(
  { tx, organisation }: OrganisationScope,
  now: Date,
  units: string[] | null = null,
): Promise<number> {
  const due = await tx.$queryRaw<
    { vehicleId: string; weakPoint: string; position: number; reason: string }[]
  >`
    select distinct on (score.vehicle_id, score.weak_point, score.position)
      score.vehicle_id::text as "vehicleId", score.weak_point as "weakPoint", score.position, score.speaks as reason
    from component_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
    where score.advice = 'stop' and (${units}::text[] is null or vehicle.unit = any(${units}::text[]))
      and not exists (
        select from stop_notices notice
        where notice.vehicle_id = score.vehicle_id and notice.weak_point = score.weak_point
          and notice.position = score.position and (notice.released_at is null or not (${HAS_MOVED_ON})))`
  for (const { vehicleId, weakPoint, position, reason } of due)
    await tx.$executeRaw`
      insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
      values (${organisation}::uuid, ${newId(now)}::uuid, ${vehicleId}::uuid, ${weakPoint}, ${position}, ${now},
        ${reason})
      on conflict do nothing`
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

import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/** What is to be told: of which notice of which vehicle, or to try the address. */
export type NewDelivery =
  | { kind: 'stop'; vehicleId: string; noticeId: string; body: string }
  | { kind: 'test'; body: string }

/** Writes what is to be told, in the transaction of what it tells of, and wakes whoever tells it when that is kept. */
export async function writeDelivery(
  { tx, organisation }: OrganisationScope,
  delivery: NewDelivery,
  now: Date,
): Promise<void> {
  const { vehicleId, noticeId } = delivery.kind === 'stop' ? delivery : { vehicleId: null, noticeId: null }
  await tx.$executeRaw`
    insert into webhook_deliveries
      (organisation_id, id, kind, vehicle_id, notice_id, body, made_at, due_at, attempts, state)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${delivery.kind}, ${vehicleId}::uuid, ${noticeId}::uuid,
      ${delivery.body}, ${now}, ${now}, 0, 'waiting')`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

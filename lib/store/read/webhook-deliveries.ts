import type { OrganisationScope } from '../with-organisation'

/** Something that is or was to be told to the organisation's address. */
export type WebhookDelivery = {
  id: string
  kind: 'stop' | 'test'
  unit: string | null
  madeAt: Date
  /** When it is tried next. */
  dueAt: Date
  attempts: number
  state: 'waiting' | 'delivered' | 'failed'
  /** What came of the last attempt; null before the first. */
  outcome: string | null
  triedAt: Date | null
}

const MOST_SHOWN = 10

/** The last of them, the latest first. */
export function readWebhookDeliveries({ tx }: OrganisationScope): Promise<WebhookDelivery[]> {
  return tx.$queryRaw<WebhookDelivery[]>`
    select delivery.id::text, delivery.kind, vehicle.unit, delivery.made_at as "madeAt", delivery.due_at as "dueAt",
      delivery.attempts, delivery.state, delivery.outcome, delivery.tried_at as "triedAt"
    from webhook_deliveries delivery left join vehicles vehicle on vehicle.id = delivery.vehicle_id
    order by delivery.made_at desc, delivery.id desc limit ${MOST_SHOWN}`
}

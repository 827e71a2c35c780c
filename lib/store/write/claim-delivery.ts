import type { OrganisationScope } from '../with-organisation'

/** One attempt of telling. */
export type ClaimedDelivery = { id: string; body: string; attempts: number }

/**
 * Takes the next delivery that is due, so that nobody else takes it until `until`: whoever is killed while telling has it
 * told again after that, under the same id. Of one vehicle the earliest goes first, and the next waits for it.
 */
export async function claimDelivery(
  { tx }: OrganisationScope,
  now: Date,
  until: Date,
): Promise<ClaimedDelivery | null> {
  const [claimed] = await tx.$queryRaw<ClaimedDelivery[]>`
    update webhook_deliveries set due_at = ${until}, attempts = attempts + 1, tried_at = ${now}
    where (organisation_id, id) = (
      select delivery.organisation_id, delivery.id from webhook_deliveries delivery
      where delivery.state = 'waiting' and delivery.due_at <= ${now} and not exists (
        select from webhook_deliveries earlier
        where earlier.vehicle_id = delivery.vehicle_id and earlier.state = 'waiting'
          and (earlier.made_at, earlier.id) < (delivery.made_at, delivery.id))
      order by delivery.made_at, delivery.id limit 1
      for update skip locked)
    returning id::text, body, attempts`
  return claimed ?? null
}

/** What came of an attempt: delivered, to be tried again at a moment, or given up. */
export type Attempted = { id: string; outcome: string; next: 'delivered' | 'failed' | Date }

export async function noteAttempt(
  { tx }: OrganisationScope,
  { id, outcome, next }: Attempted,
): Promise<void> {
  const [state, dueAt] = next instanceof Date ? ['waiting', next] : [next, null]
  await tx.$executeRaw`
    update webhook_deliveries set state = ${state}, outcome = ${outcome}, due_at = coalesce(${dueAt}, due_at)
    where id = ${id}::uuid and state = 'waiting'`
}

import type { OrganisationScope } from '../with-organisation'

/** How long the secret before a new one counts beside it, so that nothing is lost while the other side changes it. */
const FORMER_COUNTS_MS = 24 * 3_600_000

type By = { now: Date; by: string }

/**
 * Says which address is told of stops, and whether it is.
 *
 * @param newSecret what signs from now on where there was no address before
 * @returns whether it is the first, so that `newSecret` was taken
 */
export async function putWebhook(
  { tx, organisation }: OrganisationScope,
  { address, isOn, newSecret }: { address: string; isOn: boolean; newSecret: string },
  { now, by }: By,
): Promise<boolean> {
  const [{ isFirst } = { isFirst: false }] = await tx.$queryRaw<{ isFirst: boolean }[]>`
    insert into webhooks (organisation_id, address, is_on, secret, changed_at, changed_by)
    values (${organisation}::uuid, ${address}, ${isOn}, ${newSecret}, ${now}, ${by}::uuid)
    on conflict (organisation_id) do update
      set address = excluded.address, is_on = excluded.is_on, changed_at = ${now}, changed_by = ${by}::uuid
    returning secret = ${newSecret} as "isFirst"`
  return isFirst
}

/**
 * Has another secret sign; the one before counts beside it for a day.
 *
 * @returns false where there is no address
 */
export async function renewWebhookSecret(
  { tx }: OrganisationScope,
  newSecret: string,
  { now, by }: By,
): Promise<boolean> {
  const until = new Date(now.getTime() + FORMER_COUNTS_MS)
  const changed = await tx.$executeRaw`
    update webhooks set former_secret = secret, former_until = ${until}, secret = ${newSecret},
      changed_at = ${now}, changed_by = ${by}::uuid`
  return changed > 0
}

import type { OrganisationScope } from '../with-organisation'

/** The address that is told of stops, as people see it: its secret is never read again. */
export type Webhook = { address: string; isOn: boolean; formerUntil: Date | null }

/** Null where there is none. */
export async function readWebhook({ tx }: OrganisationScope): Promise<Webhook | null> {
  const [found] = await tx.$queryRaw<Webhook[]>`
    select address, is_on as "isOn", former_until as "formerUntil" from webhooks`
  return found ?? null
}

/** Where a notice is sent, and the secrets that sign it now. */
export type WebhookToTell = { address: string; secrets: string[] }

/** Null where there is none, or it is switched off. */
export async function readWebhookToTell({ tx }: OrganisationScope, now: Date): Promise<WebhookToTell | null> {
  const [found] = await tx.$queryRaw<WebhookToTell[]>`
    select address, array_remove(array[secret, case when former_until > ${now} then former_secret end], null) as secrets
    from webhooks where is_on`
  return found ?? null
}

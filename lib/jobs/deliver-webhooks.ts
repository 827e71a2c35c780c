import { lookup } from 'node:dns/promises'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readWebhookToTell } from '@/lib/store/read/webhook'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { type ClaimedDelivery, claimDelivery, noteAttempt } from '@/lib/store/write/claim-delivery'
import { ANSWER_WITHIN_MS, type Outcome, postOnce, type Resolve } from './inner/post-once'
import type { WebhookRules } from './webhook-address'
import { signedHeaders } from './webhook-secret'

const MINUTE_MS = 60_000

/** Minutes from each attempt that failed to the next: three days in all, then it is given up. */
export const AGAIN_AFTER_MINUTES = [0.25, 1, 5, 30, 120, 300, 600, 840, 1200, 1224] as const

/** Nobody else tries for so long: longer than an attempt can take. */
export const CLAIMED_MS = 3 * ANSWER_WITHIN_MS

/** How an installation tells addresses: what it allows, and where the product itself is, for the link in what is told. */
export type WebhookSurroundings = WebhookRules & { productAddress: string; resolve?: Resolve }

/** Every address of a name, of both kinds. */
const resolveName: Resolve = async (name) => {
  const found = await lookup(name, { all: true, verbatim: true })
  return found.map(({ address }) => address)
}

/**
 * Tells the organisation's address what it is still to be told, until nothing is due. Each is told at least once, under an
 * id of its own, and of one vehicle in order. Whoever does not take one is left alone until it is woken again.
 */
export async function deliverWebhooks(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
  surroundings: WebhookSurroundings,
): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  for (;;) {
    const begun = now()
    const webhook = await withOrganisation(database, organisation, (scope) => readWebhookToTell(scope, begun))
    if (!webhook) return
    const claimed = await write((scope) =>
      claimDelivery(scope, begun, new Date(begun.getTime() + CLAIMED_MS)),
    )
    if (!claimed) return
    const body = withAddress(claimed.body, surroundings.productAddress)
    const headers = signedHeaders({ id: claimed.id, body }, webhook.secrets, begun)
    const outcome = await postOnce(
      { address: webhook.address, body, headers },
      surroundings,
      surroundings.resolve ?? resolveName,
    )
    await write((scope) =>
      noteAttempt(scope, { id: claimed.id, outcome, next: nextOf(claimed, outcome, now()) }),
    )
    if (outcome !== 'delivered') return
  }
}

function nextOf({ attempts }: ClaimedDelivery, outcome: Outcome, now: Date) {
  if (outcome === 'delivered') return 'delivered'
  const minutes = AGAIN_AFTER_MINUTES[attempts - 1]
  return minutes === undefined ? 'failed' : new Date(now.getTime() + minutes * MINUTE_MS)
}

/** What is kept says where in the product it is; whoever is told gets the whole address. */
function withAddress(body: string, productAddress: string): string {
  const { data: { path, ...data } = {}, ...told } = JSON.parse(body) as { data?: { path?: string } }
  return JSON.stringify({
    ...told,
    data: { ...data, ...(path === undefined ? {} : { address: productAddress + path }) },
  })
}

import type { WebhookDelivery } from '@/lib/store/read/webhook-deliveries'
import type { Formats } from '../../ui/formats'

export const WEBHOOK_TITLE = 'Telling another program of stops'

/** What a delivery tells of. */
export const deliveryWords = ({ kind, unit }: Pick<WebhookDelivery, 'kind' | 'unit'>): string =>
  kind === 'test' ? 'A test' : `Do not drive: ${unit}`

const OUTCOMES: Record<string, string> = {
  'not-allowed': 'the address leads into a private network, which this installation does not allow',
  'no-such-name': 'nobody has that name',
  'no-connection': 'no connection, or no valid certificate',
  'no-answer': 'no answer within ten seconds',
  redirects: 'it leads elsewhere: write the address that it leads to',
}

/** Why an attempt failed. */
export function outcomeWords(outcome: string): string {
  const [, status] = /^status-(\d+)$/.exec(outcome) ?? []
  return status === undefined ? (OUTCOMES[outcome] ?? outcome) : `it answered with status ${status}`
}

/** Where a delivery stands, in a sentence. */
export function stateWords(delivery: WebhookDelivery, { moment, count }: Formats): string {
  const { state, attempts, outcome, dueAt, triedAt } = delivery
  if (state === 'delivered') return `Arrived ${triedAt === null ? '' : moment(triedAt)}`.trim()
  const why = outcome === null ? '' : `: ${outcomeWords(outcome)}`
  const times = attempts === 1 ? 'once' : `${count(attempts)} times`
  if (state === 'failed') return `Given up after it was tried ${times}${why}`
  if (outcome === null) return attempts === 0 ? 'Is to be sent' : 'Is being sent'
  return `Tried ${times}${why}; again ${moment(dueAt)}`
}

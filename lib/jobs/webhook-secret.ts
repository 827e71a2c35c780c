import crypto from 'node:crypto'

/** What a secret of the scheme begins with; what follows is base64. */
const PREFIX = 'whsec_'
const SECRET_BYTES = 32

/** A new secret as the open scheme Standard Webhooks writes it. */
export const newWebhookSecret = (): string => PREFIX + crypto.randomBytes(SECRET_BYTES).toString('base64')

/**
 * The headers by which the receiver knows that a body came from here (Standard Webhooks, symmetric signatures `v1`:
 * HMAC-SHA256 of id, moment and body). With several secrets there is a signature of each.
 */
export function signedHeaders(
  { id, body }: { id: string; body: string },
  secrets: readonly string[],
  now: Date,
): Record<string, string> {
  const timestamp = String(Math.floor(now.getTime() / 1000))
  const signatures = secrets.map((secret) => {
    const key = Buffer.from(secret.slice(PREFIX.length), 'base64')
    return `v1,${crypto.createHmac('sha256', key).update(`${id}.${timestamp}.${body}`).digest('base64')}`
  })
  return {
    'webhook-id': id,
    'webhook-timestamp': timestamp,
    'webhook-signature': signatures.join(' '),
  }
}

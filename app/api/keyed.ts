import type { OrganisationScope } from '@/lib/store/with-organisation'
import { answerOnce, type KeyedRequest } from '@/lib/store/write/answer-once'
import { held } from './held'
import { Problem } from './problem'

const LONGEST_KEY = 255

/**
 * The key under which a request may be sent again; null without one.
 *
 * @throws Problem `invalid` for one that is blank or too long
 */
export function keyOf(headers: Headers): string | null {
  const key = headers.get('idempotency-key')
  if (key === null) return null
  if (key.trim() === '' || key.length > LONGEST_KEY)
    throw new Problem(
      'invalid',
      `Idempotency-Key: has ${key.length} characters, expected 1 to ${LONGEST_KEY}`,
    )
  return key
}

const claimed = () => held('keys-in-flight', () => new Set<string>())

/**
 * Claims a token's key while its request is at work in this process.
 *
 * @returns what gives it free again
 * @throws Problem `in-flight`
 */
export function claimKey(token: string, key: string | null): () => void {
  if (key === null) return () => {}
  const name = `${token} ${key}`
  if (claimed().has(name))
    throw new Problem('in-flight', 'Send it again in a moment for its answer', {}, { 'Retry-After': '1' })
  claimed().add(name)
  return () => claimed().delete(name)
}

/**
 * Does what a request asks and answers with its outcome as JSON; once for a key.
 *
 * @throws Problem `key-reused`
 */
export async function answered(
  scope: OrganisationScope,
  keyed: KeyedRequest | null,
  act: () => Promise<unknown>,
): Promise<Response> {
  if (keyed === null) return Response.json(await act())
  const kept = await answerOnce(scope, keyed, async () => ({
    status: 200,
    contentType: 'application/json',
    body: JSON.stringify(await act()),
  }))
  if (kept === null) throw new Problem('key-reused', 'Use a new key for another request')
  return new Response(kept.body, { status: kept.status, headers: { 'Content-Type': kept.contentType } })
}

import type { OrganisationScope } from '../with-organisation'

/** What was answered, as it is answered again. */
export type KeptAnswer = { status: number; contentType: string; body: string }

/** A request that carries a key of its sender's, so that it may be sent again. */
export type KeyedRequest = {
  /** The token that sent it, or the person at a phone. */
  sender: string
  key: string
  /** SHA-256 of the whole request, in hexadecimal. */
  hash: string
  now: Date
  /** How long the answer is kept; a day where nothing is said. */
  keptDays?: number
}

/**
 * Does what a request asks once, and keeps the answer with what was done, in the same transaction: the same request under
 * the same key gets it again for as long as it is kept. What `act` throws undoes that the key was used.
 *
 * @returns null where the key came with another request
 */
export async function answerOnce(
  scope: OrganisationScope,
  { sender, key, hash, now, keptDays = 1 }: KeyedRequest,
  act: () => Promise<KeptAnswer>,
): Promise<KeptAnswer | null> {
  const { tx, organisation } = scope
  await tx.$executeRaw`delete from idempotency_keys where made_at <= ${now}::timestamptz - kept_days * interval '1 day'`
  // A request under the same key that is at work in another process is waited for here.
  const claimed = await tx.$executeRaw`
    insert into idempotency_keys
      (organisation_id, sender_id, key, body_hash, status, content_type, body, made_at, kept_days)
    values (${organisation}::uuid, ${sender}::uuid, ${key}, decode(${hash}, 'hex'), 0, '', '', ${now}, ${keptDays})
    on conflict (organisation_id, sender_id, key) do nothing`
  if (claimed === 0) {
    const [kept] = await tx.$queryRaw<(KeptAnswer & { hash: string })[]>`
      select status, content_type as "contentType", body, encode(body_hash, 'hex') as hash
      from idempotency_keys where sender_id = ${sender}::uuid and key = ${key}`
    return kept?.hash === hash
      ? { status: kept.status, contentType: kept.contentType, body: kept.body }
      : null
  }
  const answer = await act()
  await keepAnswer(scope, { sender, key }, answer)
  return answer
}

/** Puts what came of a request later into the answer that is kept for it. */
export async function keepAnswer(
  { tx }: OrganisationScope,
  { sender, key }: Pick<KeyedRequest, 'sender' | 'key'>,
  answer: KeptAnswer,
): Promise<void> {
  await tx.$executeRaw`
    update idempotency_keys set status = ${answer.status}, content_type = ${answer.contentType}, body = ${answer.body}
    where sender_id = ${sender}::uuid and key = ${key}`
}

import type { OrganisationScope } from '../with-organisation'

/** What was answered, as it is answered again. */
export type KeptAnswer = { status: number; contentType: string; body: string }

/** A request that carries a key of its sender's, so that it may be sent again. */
export type KeyedRequest = {
  token: string
  key: string
  /** SHA-256 of the whole request, in hexadecimal. */
  hash: string
  now: Date
}

const KEPT_HOURS = 24

/**
 * Does what a request asks once, and keeps the answer with what was done, in the same transaction: the same request under
 * the same key gets it again for a day.
 *
 * @returns null where the key came with another request
 */
export async function answerOnce(
  { tx, organisation }: OrganisationScope,
  { token, key, hash, now }: KeyedRequest,
  act: () => Promise<KeptAnswer>,
): Promise<KeptAnswer | null> {
  const expired = new Date(now.getTime() - KEPT_HOURS * 3_600_000)
  await tx.$executeRaw`delete from idempotency_keys where made_at <= ${expired}`
  // A request under the same key that is at work in another process is waited for here.
  const claimed = await tx.$executeRaw`
    insert into idempotency_keys (organisation_id, token_id, key, body_hash, status, content_type, body, made_at)
    values (${organisation}::uuid, ${token}::uuid, ${key}, decode(${hash}, 'hex'), 0, '', '', ${now})
    on conflict (organisation_id, token_id, key) do nothing`
  if (claimed === 0) {
    const [kept] = await tx.$queryRaw<(KeptAnswer & { hash: string })[]>`
      select status, content_type as "contentType", body, encode(body_hash, 'hex') as hash
      from idempotency_keys where token_id = ${token}::uuid and key = ${key}`
    return kept?.hash === hash
      ? { status: kept.status, contentType: kept.contentType, body: kept.body }
      : null
  }
  const answer = await act()
  await tx.$executeRaw`
    update idempotency_keys set status = ${answer.status}, content_type = ${answer.contentType}, body = ${answer.body}
    where token_id = ${token}::uuid and key = ${key}`
  return answer
}

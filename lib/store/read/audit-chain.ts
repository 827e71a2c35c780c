import crypto from 'node:crypto'
import type { OrganisationScope } from '../with-organisation'

/** A place in the trail with the hash of its line: whoever keeps it can prove later that nothing before it has changed. */
export type ChainEnd = { place: number; hash: string }

/** Why the trail is not what was written, and where that shows first. */
export type ChainBreak = {
  place: number
  reason: 'missing' | 'line-changed' | 'content-changed' | 'content-gone' | 'not-the-one-seen'
}

export type ChainFound =
  | { ok: true; lines: number; end: ChainEnd | null }
  | ({ ok: false; lines: number } & ChainBreak)

/** A line as text, as the database hashed it. */
type Link = {
  place: string
  head: string
  content: string
  /** The same without the salt. */
  rest: string
  salt: string | null
  contentHash: Uint8Array
  hash: Uint8Array
}

const LINES_AT_ONCE = 5000

const sha256 = (...parts: (Uint8Array | string)[]): Buffer => {
  const hash = crypto.createHash('sha256')
  for (const part of parts) hash.update(part)
  return hash.digest()
}

/**
 * Reckons the whole chain of an organisation anew: every line is behind the one that was before it, says what it said,
 * and none is missing. Whoever can write to the database with its owner's rights could write all of a chain anew; what was
 * noted of it elsewhere (`seen`) would then not be in it.
 */
export async function readAuditChain(scope: OrganisationScope, seen: ChainEnd | null): Promise<ChainFound> {
  const erased = await readErased(scope)
  let end: { place: number; hash: Uint8Array } = { place: 0, hash: Buffer.alloc(0) }
  for (;;) {
    const links = await readLinks(scope, end.place)
    for (const link of links) {
      const found = faultOf(link, end, erased) ?? unlikeSeen(link, seen)
      if (found) return { ok: false, lines: end.place, ...found }
      end = { place: end.place + 1, hash: link.hash }
    }
    if (links.length < LINES_AT_ONCE) break
  }
  if (seen && seen.place > end.place)
    return { ok: false, lines: end.place, place: end.place + 1, reason: 'missing' }
  const hash = Buffer.from(end.hash).toString('hex')
  return { ok: true, lines: end.place, end: end.place === 0 ? null : { place: end.place, hash } }
}

function readLinks({ tx, organisation }: OrganisationScope, after: number): Promise<Link[]> {
  return tx.$queryRaw<Link[]>`
    select place::text, salt::text, content_hash as "contentHash", hash,
      concat(salt, E'\n', before, E'\n', after) as content, concat(before, E'\n', after) as rest,
      concat(place, E'\n', to_char(at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), E'\n', actor, E'\n', what,
        E'\n', act, E'\n', subject, E'\n', vehicle_id, E'\n', row_count) as head
    from audit_lines where organisation_id = ${organisation}::uuid and place > ${after}::bigint
    order by audit_lines.place limit ${LINES_AT_ONCE}`
}

/** The hashes of what was left of lines, by their places, as the latest erasure says that touched each. */
async function readErased({ tx, organisation }: OrganisationScope): Promise<Map<number, string>> {
  const rests = await tx.$queryRaw<{ place: number; rest: string }[]>`
    select key::float8 as place, value as rest from audit_lines line, jsonb_each_text(line.after -> 'lines')
    where organisation_id = ${organisation}::uuid and what = 'erasures' and act = 'added' order by line.place`
  return new Map(rests.map(({ place, rest }) => [place, rest]))
}

function faultOf(
  link: Link,
  before: { place: number; hash: Uint8Array },
  erased: ReadonlyMap<number, string>,
): ChainBreak | null {
  const place = before.place + 1
  if (Number(link.place) !== place) return { place, reason: 'missing' }
  if (!sha256(before.hash, link.contentHash, link.head).equals(link.hash))
    return { place, reason: 'line-changed' }
  if (link.salt === null)
    return sha256(link.rest).toString('hex') === erased.get(place) ? null : { place, reason: 'content-gone' }
  return sha256(link.content).equals(link.contentHash) ? null : { place, reason: 'content-changed' }
}

function unlikeSeen({ place, hash }: Link, seen: ChainEnd | null): ChainBreak | null {
  if (seen === null || Number(place) !== seen.place) return null
  return Buffer.from(hash).toString('hex') === seen.hash
    ? null
    : { place: seen.place, reason: 'not-the-one-seen' }
}

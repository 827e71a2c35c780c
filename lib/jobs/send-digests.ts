import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type DigestReader, readDigestReaders } from '@/lib/store/read/digest-wishes'
import { readTerms } from '@/lib/store/read/terms'
import { pack } from '@/lib/store/secret-text'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import {
  noteDigestDue,
  noteDigestTried,
  type TakenDigest,
  takeDigestMail,
} from '@/lib/store/write/note-digest-mail'
import { type Day, formatDay } from '@/lib/units/dates'
import { readDigest } from './digest'
import { dueDigest } from './digest-due'
import { digestMail } from './digest-mail'
import { type DigestText, digestText } from './digest-words'
import { oneLine } from './mail'
import type { Post } from './post'

/** After so many minutes it is tried again, longer and longer; then it is given up, two days after the first try. */
const TRIED_AGAIN_MIN = [5, 15, 60, 180, 360, 720, 1440]
const MINUTE_MS = 60_000

const nextTryAfter = (tries: number, now: Date): Date | null => {
  const minutes = TRIED_AGAIN_MIN[tries - 1]
  return minutes === undefined ? null : new Date(now.getTime() + minutes * MINUTE_MS)
}

/**
 * Sends the week to everybody of the organisation who wants it now: one mail a person and week, at least once. What a
 * server does not take is tried again later, and nobody else waits for it; what was sent is noted by itself, so that
 * whoever is killed in the middle of the list begins where it ended.
 */
export async function sendDigests(
  database: Database,
  organisation: OrganisationId,
  post: Post,
  now: () => Date,
  isStopped: () => boolean = () => false,
): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const readers = await write((scope) => noteDue(scope, now()))
  if (readers.length === 0) return
  const people = readers.map(({ person }) => person)
  const texts = new Map<Day, DigestText>()
  const textOf = async (to: Day) => {
    const known = texts.get(to) ?? digestText(await write((scope) => readDigest(scope, to, now())))
    texts.set(to, known)
    return known
  }
  while (!isStopped()) {
    const at = now()
    const taken = await write((scope) =>
      takeDigestMail(scope, { people, now: at, nextTryAt: (tries) => nextTryAfter(tries, at) }),
    )
    const reader = taken && readers.find(({ person }) => person === taken.person)
    if (!taken || !reader) return
    const failure = await tried(async () =>
      post.send(mailTo(reader, taken, await textOf(taken.to), { organisation, ...post })),
    )
    await write((scope) => noteDigestTried(scope, taken.id, { failure, now: now() }))
  }
}

/** Notes what is due, and answers who may be written to. */
async function noteDue(scope: OrganisationScope, now: Date): Promise<DigestReader[]> {
  const readers = await readDigestReaders(scope)
  if (readers.length === 0) return []
  const { timeZone } = await readTerms(scope)
  for (const { person, ...wish } of readers) {
    const due = dueDigest(wish, timeZone, now)
    if (due) await noteDigestDue(scope, { person, ...due }, now)
  }
  return readers
}

function mailTo(
  { person, name, mail, secret }: DigestReader,
  { id, to }: TakenDigest,
  text: DigestText,
  { organisation, publicAddress }: { organisation: OrganisationId; publicAddress: string },
) {
  const key = pack({ organisation, id: person, secret: Buffer.from(secret) })
  const unsubscribe = `${publicAddress}/unsubscribe/${key}/one-click`
  const page = `/digest?to=${formatDay(to)}`
  const parts = digestMail(text, { origin: publicAddress, unsubscribe, page })
  return { ...parts, to: { name, address: mail }, id, unsubscribe }
}

/** Why it could not be sent, in one line for the owner; null where it was. */
async function tried(send: () => Promise<void>): Promise<string | null> {
  try {
    await send()
    return null
  } catch (error) {
    return (
      oneLine(error instanceof Error ? error.message : String(error)) || 'The mail server did not say why'
    )
  }
}

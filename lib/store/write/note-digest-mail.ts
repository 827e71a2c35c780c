import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** A mail that is to be sent now: whoever took it sends it, and nobody else before its next try. */
export type TakenDigest = { id: string; person: string; to: Day; tries: number }

/** Notes that a person's mail of a week is to be sent; once, however often it is noted. */
export async function noteDigestDue(
  { tx, organisation }: OrganisationScope,
  { person, weekOn, to }: { person: string; weekOn: Day; to: Day },
  now: Date,
): Promise<void> {
  await tx.$executeRaw`
    insert into digest_mails (organisation_id, id, person_id, week_on, to_on, made_at, next_try_at)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${person}::uuid, ${formatDay(weekOn)}::date,
      ${formatDay(to)}::date, ${now}, ${now})
    on conflict (organisation_id, person_id, week_on) do nothing`
}

/**
 * Takes one of these people's mails whose time has come. It is tried again at the next try that is noted here, unless it
 * is noted as sent before: so whoever is killed in between loses none.
 *
 * @param nextTryAt when it is tried again after so many tries; null: it is given up then
 */
export async function takeDigestMail(
  { tx }: OrganisationScope,
  { people, now, nextTryAt }: { people: string[]; now: Date; nextTryAt: (tries: number) => Date | null },
): Promise<TakenDigest | null> {
  const [found] = await tx.$queryRaw<TakenDigest[]>`
    select id::text, person_id::text as person, to_on - date '1970-01-01' as "to", tries + 1 as tries
    from digest_mails
    where sent_at is null and next_try_at <= ${now} and person_id = any(${people}::uuid[])
    order by next_try_at, id limit 1 for update skip locked`
  if (!found) return null
  await tx.$executeRaw`
    update digest_mails set tries = ${found.tries}, next_try_at = ${nextTryAt(found.tries)} where id = ${found.id}::uuid`
  return found
}

/** Notes that it was sent, or why not. */
export async function noteDigestTried(
  { tx }: OrganisationScope,
  id: string,
  { failure, now }: { failure: string | null; now: Date },
): Promise<void> {
  const sentAt = failure === null ? now : null
  await tx.$executeRaw`
    update digest_mails set sent_at = ${sentAt}, failure = ${failure} where id = ${id}::uuid and sent_at is null`
}

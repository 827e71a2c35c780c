import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** What somebody wishes of the week by mail: weekdays from Monday, 0; hours where the organisation is. */
export type DigestWish = { wanted: boolean; weekday: number; hour: number; changedAt: Date }

/** Somebody who belongs to the organisation, has a mail address, and wants the week. */
export type DigestReader = DigestWish & { person: string; name: string; mail: string; secret: Uint8Array }

const READERS_OF = `digest_wishes wish
  join memberships member on member.person_id = wish.person_id
  join people person on person.id = wish.person_id`

/** Everybody to whom the week goes. Who has no password has no mail address that is theirs. */
export function readDigestReaders({ tx }: OrganisationScope): Promise<DigestReader[]> {
  return tx.$queryRawUnsafe<DigestReader[]>(
    `select wish.person_id::text as person, person.name, person.email as mail, wish.wanted, wish.weekday, wish.hour,
       wish.changed_at as "changedAt", wish.secret
     from ${READERS_OF}
     where wish.wanted and exists (select from accounts where user_id = person.id)
     order by wish.person_id`,
  )
}

/** What one person wishes; null where they have said nothing. */
export async function readDigestWish(
  { tx }: OrganisationScope,
  person: string,
): Promise<(DigestWish & { secret: Uint8Array }) | null> {
  const [found] = await tx.$queryRaw<(DigestWish & { secret: Uint8Array })[]>`
    select wanted, weekday, hour, changed_at as "changedAt", secret from digest_wishes
    where person_id = ${person}::uuid`
  return found ?? null
}

/** A mail that did not go out yet, or was given up (no next try). */
export type UnsentDigest = {
  name: string
  weekOn: Day
  tries: number
  nextTryAt: Date | null
  failure: string
}

/** The mails that failed and were not sent since, the latest first. */
export function readUnsentDigests({ tx }: OrganisationScope): Promise<UnsentDigest[]> {
  return tx.$queryRaw<UnsentDigest[]>`
    select person.name, mail.week_on - date '1970-01-01' as "weekOn", mail.tries, mail.next_try_at as "nextTryAt",
      mail.failure
    from digest_mails mail join people person on person.id = mail.person_id
    where mail.sent_at is null and mail.failure is not null
    order by mail.made_at desc, mail.id desc limit 20`
}

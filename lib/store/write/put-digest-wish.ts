import type { OrganisationScope } from '../with-organisation'

/** What somebody wishes from now on. */
export type NewWish = {
  wanted: boolean
  weekday: number
  hour: number
  now: Date
  /** What stops it without signing in; kept where there is one already, so that links in old mails go on working. */
  secret: Uint8Array
}

/** Keeps when one person wants the week by mail, or that they do not. */
export async function putDigestWish(
  { tx, organisation }: OrganisationScope,
  person: string,
  { wanted, weekday, hour, now, secret }: NewWish,
): Promise<void> {
  await tx.$executeRaw`
    insert into digest_wishes (organisation_id, person_id, wanted, weekday, hour, secret, changed_at)
    values (${organisation}::uuid, ${person}::uuid, ${wanted}, ${weekday}, ${hour}, ${secret}, ${now})
    on conflict (organisation_id, person_id) do update
      set wanted = excluded.wanted, weekday = excluded.weekday, hour = excluded.hour, changed_at = excluded.changed_at`
}

/** Notes that a person wants no more mails; when they wished them stays. */
export async function stopDigest({ tx }: OrganisationScope, person: string, now: Date): Promise<void> {
  await tx.$executeRaw`
    update digest_wishes set wanted = false, changed_at = ${now} where person_id = ${person}::uuid and wanted`
}

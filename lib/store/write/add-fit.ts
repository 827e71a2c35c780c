import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

export type NewFit = {
  libraryVersion: number
  asOf: Day
  /** Renewals on record then. */
  renewals: number
  /** `fit.json`. */
  content: string
  by: string | null
  now: Date
}

/** Puts what was learned in force; the scores that rested on the earlier one are then stale. */
export async function addFit(
  { tx, organisation }: OrganisationScope,
  { libraryVersion, asOf, renewals, content, by, now }: NewFit,
): Promise<void> {
  await tx.$executeRaw`
    insert into fits (organisation_id, id, library_version, as_of, renewals, content, made_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${libraryVersion}, ${formatDay(asOf)}::date, ${renewals},
      ${content}, ${now}, ${by}::uuid)`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

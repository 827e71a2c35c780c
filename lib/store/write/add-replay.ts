import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

export type NewReplay = {
  /** Of which draft; null for the library in force. */
  draft: string | null
  /** The library that was in force. */
  libraryVersion: number
  asOf: Day
  learned: boolean
  /** A replay, and the comparison of a draft, as JSON. */
  content: string
  comparison: string | null
  /** When the records were read. */
  now: Date
  by: string | null
}

/** Keeps a replay that is whole; it is the latest from then on. */
export async function addReplay(
  { tx, organisation }: OrganisationScope,
  { draft, libraryVersion, asOf, learned, content, comparison, now, by }: NewReplay,
): Promise<void> {
  await tx.$executeRaw`
    insert into replays (organisation_id, id, draft_id, library_version, as_of, learned, content, comparison, made_at,
      made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${draft}::uuid, ${libraryVersion}, ${formatDay(asOf)}::date,
      ${learned}, ${content}, ${comparison}, ${now}, ${by}::uuid)`
}

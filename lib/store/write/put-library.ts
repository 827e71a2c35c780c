import crypto from 'node:crypto'
import { newId } from '../inner/new-id'
import { forgetLibrary } from '../read/library-in-force'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/**
 * Puts a library in force as a new version; the earlier ones stay.
 *
 * @param content the library file as its author wrote it, already found valid
 * @param by whoever puts it; null where no person did
 * @param note what is to be known of this version, in words
 * @returns the version
 */
export async function putLibrary(
  scope: OrganisationScope,
  {
    content,
    now,
    by = null,
    note = null,
  }: { content: string; now: Date; by?: string | null; note?: string | null },
): Promise<number> {
  const { tx, organisation } = scope
  forgetLibrary(scope)
  const hash = crypto.createHash('sha256').update(content).digest()
  await tx.$executeRaw`update libraries set in_force = false where in_force`
  const [put] = await tx.$queryRaw<{ version: number }[]>`
    insert into libraries (organisation_id, id, version, content, content_hash, in_force, entered_at, entered_by, note)
    select ${organisation}::uuid, ${newId(now)}::uuid, coalesce(max(version), 0) + 1, ${content}::json, ${hash}, true, ${now},
      ${by}::uuid, ${note}
    from libraries
    returning version`
  if (!put) throw new Error('The library was not put in force')
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
  return put.version
}

import type { Grade } from '@/lib/decisions/grades'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/**
 * Says in how many of all cases an amount set aside is to be enough, and what its shares of the value are called. The
 * scores rest on all settings, so that they are made anew.
 *
 * @param grades null for no words of one's own
 */
export async function putGrades(
  { tx, organisation }: OrganisationScope,
  { setAsideShare, grades }: { setAsideShare: number; grades: readonly Grade[] | null },
): Promise<void> {
  await tx.$executeRaw`
    update organisations set settings = settings || ${JSON.stringify({ setAsideShare, grades })}::jsonb
    where id = ${organisation}::uuid`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

import type { Settings } from '@/lib/records/settings'
import { holdInOrder } from '../inner/hold-in-order'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/**
 * Changes what an organisation is called and some of its settings, the others standing as they are. Prices, limits
 * and the day that it is there go into every score, so that all of them are stale.
 *
 * @returns false where another organisation has that name, and nothing was changed
 */
export async function putTerms(
  scope: OrganisationScope,
  { name, settings }: { name: string; settings: Partial<Settings> },
): Promise<boolean> {
  const { tx, organisation } = scope
  const changed = await tx.$executeRaw`
    update organisations set name = ${name}, settings = settings || ${JSON.stringify(settings)}::jsonb
    where id = ${organisation}::uuid
      and not exists (select from organisations other where other.name = ${name} and other.id <> ${organisation}::uuid)`
  if (changed === 0) return false
  await holdInOrder(scope)
  await tx.$executeRaw`update vehicles set records_version = records_version + 1`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
  return true
}

import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'

/**
 * Holds the rows of vehicles until the end of the transaction. Whoever changes several does this first: two that each
 * went their own way could wait for each other. It is a statement of its own, since one that waits and then changes
 * rows sees them as they were when it began, and may wait once more, for somebody who waits for it. Held so, records
 * may still be added to them.
 *
 * @param units their numbers; every vehicle of the organisation where it is left out
 */
export async function holdInOrder({ tx }: OrganisationScope, units?: readonly string[]): Promise<void> {
  const ours = units === undefined ? Prisma.sql`true` : Prisma.sql`unit = any(${units}::text[])`
  await tx.$queryRaw`
    select count(*)::int as held from (
      select from vehicles where ${ours} order by id for no key update) in_order`
}

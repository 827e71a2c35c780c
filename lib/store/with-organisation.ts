import type { Prisma } from '@/prisma/client/client'
import { actorOf, type Database } from './database'
import { tellingNoRoom } from './disk-full'
import type { OrganisationId } from './organisation-id'

/** A transaction in which the rows of one organisation are there to be read and written, and no others. */
export type OrganisationScope = {
  organisation: OrganisationId
  tx: Prisma.TransactionClient
  /** What was asked for already, where everything is read for one answer. */
  asked?: Map<string, Promise<unknown>>
}

/** A page that takes longer has gone wrong; bringing in records, or reading them all, may take its time. */
const TIME_LIMIT_MS = { read: 20_000, write: 600_000, whole: 600_000 }

/** Where many come at once everybody waits a while for a connection, rather than being told that there is no page. */
const MOST_WAITED_MS = 30_000

/**
 * Runs `work` in one transaction of an organisation: all of it is kept, or nothing. Row-level security lets it see
 * and write that organisation's rows alone, whatever its queries ask for. What is written stands in the audit trail for
 * whoever acts through `database`.
 *
 * @param purpose `whole`: everything is read as it is at one moment
 */
export function withOrganisation<T>(
  database: Database,
  organisation: OrganisationId,
  work: (scope: OrganisationScope) => Promise<T>,
  purpose: 'read' | 'write' | 'whole' = 'read',
): Promise<T> {
  const actor = actorOf(database)
  const done = database.$transaction(
    async (tx) => {
      await tx.$queryRaw`
        select set_config('gudgeon.organisation', ${organisation}, true), set_config('gudgeon.actor', ${actor}, true)`
      return work(purpose === 'read' ? { organisation, tx, asked: new Map() } : { organisation, tx })
    },
    {
      timeout: TIME_LIMIT_MS[purpose],
      maxWait: MOST_WAITED_MS,
      ...(purpose === 'whole' ? { isolationLevel: 'RepeatableRead' as const } : {}),
    },
  )
  return tellingNoRoom(done)
}

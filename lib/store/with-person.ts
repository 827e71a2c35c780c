import type { Prisma } from '@/prisma/client/client'
import type { Database } from './database'

/** A transaction in which a person's own memberships are there to be read, whatever the organisation. */
export type PersonScope = { person: string; tx: Prisma.TransactionClient }

/** Runs `work` for somebody before an organisation has been chosen. Nothing can be written in it. */
export function withPerson<T>(
  database: Database,
  person: string,
  work: (scope: PersonScope) => Promise<T>,
): Promise<T> {
  return database.$transaction(async (tx) => {
    await tx.$queryRaw`select set_config('gudgeon.person', ${person}, true)`
    return work({ person, tx })
  })
}

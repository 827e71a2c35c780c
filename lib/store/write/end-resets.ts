import type { Database } from '../database'

/** Ends every link by which a person could choose a new password. */
export async function endResets(database: Database, person: string): Promise<void> {
  await database.$executeRaw`delete from verifications where value = ${person}`
}

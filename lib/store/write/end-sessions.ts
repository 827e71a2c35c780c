import type { Database } from '../database'

/** Ends one session of a person; of anybody else it ends none. */
export async function endSession(
  database: Database,
  { person, id }: { person: string; id: string },
): Promise<boolean> {
  return (await database.$executeRaw`delete from sessions where id = ${id} and user_id = ${person}::uuid`) > 0
}

/** Ends every session of a person. @returns how many ended */
export function endAllSessions(database: Database, person: string): Promise<number> {
  return database.$executeRaw`delete from sessions where user_id = ${person}::uuid`
}

/** Ends every session of a person but one. @returns how many ended */
export function endOtherSessions(
  database: Database,
  { person, kept }: { person: string; kept: string },
): Promise<number> {
  return database.$executeRaw`delete from sessions where user_id = ${person}::uuid and id <> ${kept}`
}

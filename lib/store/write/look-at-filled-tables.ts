import type { Database } from '../database'

/**
 * Lets the server look at tables that were filled a moment ago and that it has not come to by itself: until then it
 * takes every table for nearly empty, and reads all of an organisation's rows where an index would find a vehicle's.
 *
 * @returns at how many it had to look
 */
export async function lookAtFilledTables(database: Database): Promise<number> {
  const [looked] = await database.$queryRaw<{ tables: number }[]>`select look_at_filled_tables() as tables`
  return looked?.tables ?? 0
}

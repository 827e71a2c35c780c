import type { Database } from '../database'
import { newId } from '../inner/new-id'

const WINDOW_MS = 60_000

/**
 * Counts one more attempt under a key.
 *
 * @returns how many there have been within the minute that began with the first of them, this one included
 */
export async function countAttempt(
  database: Database,
  { key, now }: { key: string; now: Date },
): Promise<number> {
  await database.$executeRaw`delete from rate_limits where last_request <= ${now.getTime() - WINDOW_MS}`
  const [counted] = await database.$queryRaw<{ count: number }[]>`
    insert into rate_limits (id, key, count, last_request) values (${newId(now)}, ${key}, 1, ${now.getTime()})
    on conflict (key) do update set count = rate_limits.count + 1
    returning count`
  return counted?.count ?? 1
}

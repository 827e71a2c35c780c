import type { Database } from '../database'

/** A session as its owner sees it: since when, and from what kind of browser (blank where it did not say). */
export type ListedSession = { id: string; since: Date; browser: string }

/** A person's sessions that have not ended, the youngest first. */
export function readSessionsOf(database: Database, person: string, now: Date): Promise<ListedSession[]> {
  return database.$queryRaw<ListedSession[]>`
    select id, created_at as since, coalesce(user_agent, '') as browser from sessions
    where user_id = ${person}::uuid and expires_at > ${now}
    order by created_at desc, id desc`
}

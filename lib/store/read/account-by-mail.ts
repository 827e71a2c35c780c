import type { Database } from '../database'

/** Somebody who signs in with a mail address and a password. */
export type AccountHolder = { id: string; name: string; mail: string }

/** Who signs in with a mail address, however it is written; null for nobody. */
export async function readAccountByMail(database: Database, mail: string): Promise<AccountHolder | null> {
  const [found] = await database.$queryRaw<AccountHolder[]>`
    select id::text, name, email as mail from people
    where email = ${mail.toLowerCase()} and exists (select from accounts where user_id = people.id)`
  return found ?? null
}

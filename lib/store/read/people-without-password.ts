import type { Database } from '../database'

/** Somebody who enters at a press. The people of the demo say what they are and what today asks of them. */
export type PersonWithoutPassword = {
  id: string
  name: string
  title: string | null
  decides: string | null
}

/** Everybody without a password, the oldest first. */
export async function readPeopleWithoutPassword(database: Database): Promise<PersonWithoutPassword[]> {
  return database.$queryRaw<PersonWithoutPassword[]>`
    select id::text, name, title, decides from people
    where not exists (select from accounts where user_id = people.id)
    order by created_at, id`
}

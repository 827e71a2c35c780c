import type { Prisma } from '@/prisma/client/client'
import { newId } from './new-id'

/**
 * Somebody who is new here. Without an account they enter at a press; the people of the demo say what they are and
 * what today asks of them.
 */
export type NewPerson = {
  name: string
  title?: string
  decides?: string
  account?: { mail: string; passwordHash: string }
}

/** Writes a person, with their account where they have one. @returns their id */
export async function addPerson(tx: Prisma.TransactionClient, person: NewPerson, now: Date): Promise<string> {
  const { name, title = null, decides = null, account } = person
  const id = newId(now)
  // Nobody can be written to there (RFC 2606); the sign-in library wants every person to have an address.
  const mail = account?.mail ?? `${id}@this-machine.invalid`
  await tx.$executeRaw`
    insert into people (id, name, title, decides, email, created_at, updated_at)
    values (${id}::uuid, ${name}, ${title}, ${decides}, ${mail}, ${now}, ${now})`
  if (account)
    await tx.$executeRaw`
      insert into accounts (id, account_id, provider_id, user_id, password, created_at, updated_at)
      values (${newId(now)}, ${id}, 'credential', ${id}::uuid, ${account.passwordHash}, ${now}, ${now})`
  return id
}

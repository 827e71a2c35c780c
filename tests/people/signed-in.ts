import { randomUUID } from 'node:crypto'
import { signInOf } from '@/lib/people/sign-in'
import type { Database } from '@/lib/store/database'
import type { Role } from '@/lib/store/role'
import { runSql } from '../store/test-database'

export type SignedInPerson = { id: string; mail: string; headers: Headers }

/** What a browser would send after those cookies were set. */
export function cookiesOf(answer: Headers): Headers {
  const cookie = answer.getSetCookie().map((each) => each.split(';')[0])
  return new Headers({ cookie: cookie.join('; ') })
}

/** Somebody with a session, in that role in an organisation; without one they belong nowhere. */
export async function signedIn(
  { database, adminUrl }: { database: Database; adminUrl: string },
  belongs: { organisation: string; role: Role } | null,
): Promise<SignedInPerson> {
  const id = randomUUID()
  const mail = `${id}@mill.example`
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values ('${id}', 'Somebody', '${mail}', now())`,
  )
  if (belongs)
    await runSql(
      adminUrl,
      `insert into memberships values ('${belongs.organisation}', '${id}', '${belongs.role}', now())`,
    )
  const { headers } = await signInOf(database).api.enterByPress({ body: { person: id }, returnHeaders: true })
  // With an account the door does not offer them to others.
  await runSql(
    adminUrl,
    `insert into accounts (id, account_id, provider_id, user_id, updated_at)
     values ('${id}', '${id}', 'credential', '${id}', now())`,
  )
  return { id, mail, headers: cookiesOf(headers) }
}

import { enterWithPassword } from '@/lib/people/password-entry'
import { type Beginning, startOrganisation } from '@/lib/people/start-organisation'
import type { Database } from '@/lib/store/database'
import { cookiesOf } from './signed-in'

export const PASSWORD = 'long enough to count'

const BEGINNING: Omit<Beginning, 'name'> = {
  ...{ currency: 'EUR', locale: 'en-IE', timeZone: 'UTC', distance: 'km', vehicleNumber: 'plate' },
}

/** Somebody who owns an organisation of their own and signs in with a password. @returns their id */
export async function anOwner(database: Database, name: string, mail: string, now: Date): Promise<string> {
  const owner = { name, account: { mail, password: PASSWORD } }
  const id = await startOrganisation(database, { ...BEGINNING, name: `Of ${name}` }, owner, now)
  if (id === null) throw new Error(`There is an organisation of ${name} already`)
  return id
}

/** Signs in and answers what the browser sends from then on; null where the password is another. */
export async function signInAs(
  database: Database,
  mail: string,
  { password = PASSWORD, now, browser = '' }: { password?: string; now: Date; browser?: string },
): Promise<Headers | null> {
  // From another address of the network each time: attempts from one are counted elsewhere.
  const from = Array.from({ length: 4 }, () => Math.floor(Math.random() * 256)).join('.')
  const headers = new Headers({ 'x-forwarded-for': from, 'user-agent': browser })
  const entered = await enterWithPassword(database, { mail, password, headers, now })
  return entered.ok ? cookiesOf(entered.headers) : null
}

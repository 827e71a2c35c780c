import { cookies, headers } from 'next/headers'
import { forbidden, redirect } from 'next/navigation'
import { cache } from 'react'
import { cookieName } from '@/lib/people/host-cookies'
import type { Act } from '@/lib/people/permissions'
import { type Asked, allowedTo, findPerson, type PresentPerson } from '@/lib/people/session'
import { actingAs, type Database } from '@/lib/store/database'
import { productDatabase } from '@/lib/store/product-database'
import { fromDatabase } from './database-gone'
import { ADDRESS_HEADER } from './response-headers'

/** The cookie that names the organisation which was last chosen; that one belongs to it is read each time. */
export const ORGANISATION_COOKIE = 'gudgeon.organisation'

/** Who is here: asked once a page, whatever acts are then asked about. */
const whoIsHere = cache(async (): Promise<Asked> => {
  const asked = await headers()
  const chosen = (await cookies()).get(cookieName(ORGANISATION_COOKIE, asked))?.value
  const request = { headers: asked, chosen, now: new Date() }
  return fromDatabase(async () => findPerson(await productDatabase(), request))
})

/** Who asks for this page, or sent this form. */
export const whoAsks = async (act: Act = 'read'): Promise<Asked> => allowedTo(await whoIsHere(), act)

/** The database in the hands of whoever was found to ask. */
export const databaseOf = async ({ person }: Pick<PresentPerson, 'person'>): Promise<Database> =>
  actingAs(await productDatabase(), { kind: 'person', id: person.id })

/**
 * The first line of every page and of every action: who asks, for which organisation. Whoever is not signed in is led
 * to the door and back again; whoever may not do the act is told so.
 *
 * @param act what the page shows or the action does
 */
export async function requirePerson(act: Act = 'read'): Promise<PresentPerson & { database: Database }> {
  const asked = await whoAsks(act)
  if (asked.ok) return { ...asked.present, database: await databaseOf(asked.present) }
  if (asked.reason === 'not-allowed') forbidden()
  const from = (await headers()).get(ADDRESS_HEADER) ?? '/'
  redirect(from === '/' ? '/door' : `/door?from=${encodeURIComponent(from)}`)
}

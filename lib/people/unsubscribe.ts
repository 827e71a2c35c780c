import crypto from 'node:crypto'
import { actingAs, type Database } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readDigestWish } from '@/lib/store/read/digest-wishes'
import { unpack } from '@/lib/store/secret-text'
import { withOrganisation } from '@/lib/store/with-organisation'
import { stopDigest } from '@/lib/store/write/put-digest-wish'

const SECRET_BYTES = 16

/** What a person's mails carry, by which they are stopped without signing in. */
export const newDigestSecret = (): Buffer => crypto.randomBytes(SECRET_BYTES)

/**
 * Stops the mails of whoever a key was made for; a second time it is as it was.
 *
 * @param key what the address of a mail's link carries
 * @returns false for a key that nobody made
 */
export async function unsubscribe(database: Database, key: string, now: Date): Promise<boolean> {
  const parsed = unpack(key, SECRET_BYTES)
  if (!parsed) return false
  return withOrganisation(
    actingAs(database, { kind: 'person', id: parsed.id }),
    organisationId(parsed.organisation),
    async (scope) => {
      const wish = await readDigestWish(scope, parsed.id)
      if (!wish || !crypto.timingSafeEqual(wish.secret, parsed.secret)) return false
      await stopDigest(scope, parsed.id, now)
      return true
    },
    'write',
  )
}

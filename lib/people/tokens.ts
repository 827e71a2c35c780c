import crypto from 'node:crypto'
import type { Database } from '@/lib/store/database'
import { noteIfRoom } from '@/lib/store/disk-full'
import { organisationId } from '@/lib/store/organisation-id'
import { readTokenToCheck } from '@/lib/store/read/token-to-check'
import type { Role } from '@/lib/store/role'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addToken } from '@/lib/store/write/add-token'
import { noteTokenUse } from '@/lib/store/write/note-token-use'
import type { Present } from './session'
import { hashOfSecret, newTokenSecret, parseTokenText, writeTokenText } from './token-text'

const NOTED_AFTER_MS = 60_000

/**
 * Makes a token for the machine interface.
 *
 * @param by the person who makes it; null for a command
 * @returns its text, which is kept nowhere and cannot be had again
 */
export async function makeToken(
  scope: OrganisationScope,
  token: { name: string; role: Role; by: string | null; now: Date },
): Promise<string> {
  const secret = newTokenSecret()
  const id = await addToken(scope, { ...token, secretHash: hashOfSecret(secret) })
  return writeTokenText({ organisation: scope.organisation, id, secret })
}

/**
 * Who a token speaks for: as a person it has its own id and name. Notes that it was used, at most once a minute.
 *
 * @param text what came as the bearer's token
 * @returns null for a token that nobody made, or that was revoked
 */
export async function personOfToken(database: Database, text: string, now: Date): Promise<Present | null> {
  const parsed = parseTokenText(text)
  if (!parsed) return null
  const { id, secret } = parsed
  const organisation = organisationId(parsed.organisation)
  const token = await withOrganisation(database, organisation, (scope) => readTokenToCheck(scope, id))
  if (!token || !crypto.timingSafeEqual(token.secretHash, hashOfSecret(secret))) return null
  if (now.getTime() - (token.lastUsedAt?.getTime() ?? 0) > NOTED_AFTER_MS)
    await noteIfRoom(() =>
      withOrganisation(database, organisation, (scope) => noteTokenUse(scope, { id, now })),
    )
  const { name, role, organisationName } = token
  return { person: { id, name }, organisation, organisationName, role }
}

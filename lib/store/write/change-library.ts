import { type Library, type LibraryError, parseLibrary } from '@/lib/records/library'
import { lockOrganisation } from '../inner/locks'
import { type KeyInUse, readKeysInUse } from '../read/keys-in-use'
import { readKnownLibrary } from '../read/known-library'
import { readSettings } from '../read/settings'
import type { OrganisationScope } from '../with-organisation'
import { putLibrary } from './put-library'

export type ChangedLibrary =
  | { ok: true; version: number }
  /** It is not valid, or in another currency than the organisation. */
  | { ok: false; reason: 'invalid'; errors: LibraryError[] }
  /** It drops keys that records name: they must stay, as retired at least. */
  | { ok: false; reason: 'keys-in-use'; keys: KeyInUse[] }

/**
 * Puts a library file in force as a new version, if all of it may be: valid, in the organisation's currency, and with
 * every key that the one before has and records name.
 *
 * @param content the file as its author wrote it
 * @param note what is to be known of this version, in words
 */
export async function changeLibrary(
  scope: OrganisationScope,
  { content, now, by, note }: { content: string; now: Date; by: string | null; note?: string },
): Promise<ChangedLibrary> {
  const parsed = parseLibrary(content)
  if (!parsed.ok) return { ok: false, reason: 'invalid', errors: parsed.errors }
  await lockOrganisation(scope, 'library')
  const wrong = otherCurrency(parsed.library, (await readSettings(scope)).currency)
  if (wrong) return { ok: false, reason: 'invalid', errors: [wrong] }
  const before = await readKnownLibrary(scope)
  const keys = before ? dropped(await readKeysInUse(scope), before.library, parsed.library) : []
  if (keys.length > 0) return { ok: false, reason: 'keys-in-use', keys }
  return { ok: true, version: await putLibrary(scope, { content, now, by, note }) }
}

/** Why a library in another currency than the organisation's is refused; null where it is not. */
export function otherCurrency(
  { currency }: Pick<Library, 'currency'>,
  ours: string | null,
): LibraryError | null {
  if (currency === null || ours === null || currency === ours) return null
  return {
    place: 'currency',
    message: `found ${currency}, but the organisation’s is ${ours}; prices are not converted`,
  }
}

/** The keys that the one before has and the next does not. */
function dropped(inUse: readonly KeyInUse[], before: Library, next: Library): KeyInUse[] {
  const [had, has] = [keysOf(before), keysOf(next)]
  return inUse.filter((used) => had.has(placeOf(used)) && !has.has(placeOf(used)))
}

const placeOf = ({ kind, family, of, key }: Omit<KeyInUse, 'records'>) =>
  JSON.stringify([kind, family, of, key])

function keysOf(library: Library): Set<string> {
  const places = library.families.flatMap(({ key: family, variants, weakPoints, signs }) => [
    { kind: 'family' as const, family, of: null, key: family },
    ...variants.map(({ key }) => ({ kind: 'variant' as const, family, of: null, key })),
    ...signs.map(({ key }) => ({ kind: 'sign' as const, family, of: null, key })),
    ...weakPoints.flatMap(({ key, revisions }) => [
      { kind: 'weakPoint' as const, family, of: null, key },
      ...revisions.map((revision) => ({ kind: 'revision' as const, family, of: key, key: revision.key })),
    ]),
  ])
  return new Set(places.map(placeOf))
}

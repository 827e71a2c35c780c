import { familyKeysIn, libraryWith, PAGES_BESIDE_FAMILIES } from '@/lib/intake/family-draft'
import { sharedFamily, writtenFamily } from '@/lib/intake/written-family'
import { type LibraryError, parseLibrary } from '@/lib/records/library'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readLibraryVersion } from '@/lib/store/read/library-versions'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type ChangedLibrary, changeLibrary } from '@/lib/store/write/change-library'
import { beginTaking, chooseTaken, noteTaken } from '@/lib/store/write/family-taking'
import { holdLibrary } from '@/lib/store/write/hold-library'
import { openTaking } from './open-taking'

type Act = { now: Date; by: string }

export type BegunTaking = { ok: true; id: string } | { ok: false; errors: LibraryError[] }

/** Keeps a library file of somebody else; one that is not valid, or that has no family, is refused, and nothing kept. */
export async function beginTakingIn(
  scope: OrganisationScope,
  { file, now, by }: { file: string } & Act,
): Promise<BegunTaking> {
  const parsed = parseLibrary(file)
  if (!parsed.ok) return parsed
  const { name, families } = parsed.library
  if (families.length === 0)
    return { ok: false, errors: [{ place: 'families', message: 'found no family, expected at least one' }] }
  const written = file.replace(/^\uFEFF/, '')
  return { ok: true, id: await beginTaking(scope, { file: written, source: name, now, by }) }
}

export type ChosenTaking = { ok: true } | { ok: false; reason: 'gone' | 'no-such-family' | 'no-key' }

/** Says which family of the file is taken in, and the key that it has here: that of one of ours, or a new one. */
export async function chooseFamilyTaken(
  scope: OrganisationScope,
  { id, chosen, key }: { id: string; chosen: string; key: string },
): Promise<ChosenTaking> {
  const open = await openTaking(scope, id)
  if (!open) return { ok: false, reason: 'gone' }
  const family = open.theirs.families.find((each) => each.key === chosen)
  if (!family) return { ok: false, reason: 'no-such-family' }
  const inForce = await readLibraryInForce(scope)
  const ours = inForce ? familyKeysIn(inForce.content) : []
  const alone = parseLibrary(libraryWith(null, 'key', writtenFamily({ ...family, key })))
  if (!ours.includes(key) && (!alone.ok || PAGES_BESIDE_FAMILIES.includes(key)))
    return { ok: false, reason: 'no-key' }
  await chooseTaken(scope, { id, chosen, key })
  return { ok: true }
}

export type TakenIn =
  | { ok: true; family: string; version: number }
  | { ok: false; reason: 'gone' }
  /** What is in force was changed since what was shown. */
  | { ok: false; reason: 'changed-meanwhile' }
  | Exclude<ChangedLibrary, { ok: true }>

/**
 * Puts the family that was chosen in force, merged as decided, in a new version of the library.
 *
 * @param seal of what was shown: nothing else is put in force
 */
export async function takeInFamily(
  scope: OrganisationScope,
  { id, seal, now, by }: { id: string; seal: string } & Act,
): Promise<TakenIn> {
  await holdLibrary(scope)
  const open = await openTaking(scope, id)
  if (!open?.chosen) return { ok: false, reason: 'gone' }
  const { chosen, taking, theirs } = open
  if (chosen.seal !== seal) return { ok: false, reason: 'changed-meanwhile' }
  if (chosen.errors.length > 0) return { ok: false, reason: 'invalid', errors: chosen.errors }
  const note = `${chosen.next.name} taken in from “${taking.source}”`
  const changed = await changeLibrary(scope, { content: chosen.content, now, by, note })
  if (!changed.ok) return changed
  const file = sharedFamily(theirs, chosen.theirs, theirs.currency)
  await noteTaken(scope, { id, file, version: changed.version, now, by })
  return { ok: true, family: chosen.key, version: changed.version }
}

/** Puts an earlier version of the library in force again, as a new one; null where there is none of that number. */
export async function putVersionAgain(
  scope: OrganisationScope,
  { version, now, by }: { version: number } & Act,
): Promise<ChangedLibrary | null> {
  await holdLibrary(scope)
  const found = await readLibraryVersion(scope, version)
  return found && changeLibrary(scope, { content: found.content, now, by, note: `Version ${version} again` })
}

import { type FamilyDraft, familyIn, libraryWith } from '@/lib/intake/family-draft'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readLibraryAsOf, readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readTerms } from '@/lib/store/read/terms'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type ChangedLibrary, changeLibrary } from '@/lib/store/write/change-library'
import { holdLibrary } from '@/lib/store/write/hold-library'
import { dropLibraryDraft } from '@/lib/store/write/library-draft'
import { positionsLost } from './positions-lost'

export type PutDraft =
  | { ok: true; family: string }
  | { ok: false; reason: 'gone' }
  /** Others changed the family since the draft was begun. */
  | { ok: false; reason: 'changed-meanwhile' }
  /** It takes positions away that records name, which the sentence lists. */
  | { ok: false; reason: 'positions-in-use'; sentence: string }
  | Exclude<ChangedLibrary, { ok: true }>

/**
 * Puts a draft in force, in a new version of the library: beside the others, or in the place of what it changes. The
 * draft is then gone.
 *
 * @param sure that what others changed since the draft was begun may be undone
 */
export async function putDraftInForce(
  scope: OrganisationScope,
  { id, sure, now, by }: { id: string; sure: boolean; now: Date; by: string },
): Promise<PutDraft> {
  // Before the library is read: what others put in force a moment ago is part of what this adds to.
  await holdLibrary(scope)
  const draft = await readLibraryDraft(scope, id)
  if (!draft) return { ok: false, reason: 'gone' }
  const family = draft.family as FamilyDraft
  const inForce = await readLibraryInForce(scope)
  const begunOn = await readLibraryAsOf(scope, draft.madeAt)
  if (!sure && saysOtherwise(family.key, begunOn?.content, inForce?.content))
    return { ok: false, reason: 'changed-meanwhile' }
  const old = inForce && familyIn(inForce.content, family.key)
  const lost = old && (await positionsLost(scope, old, family))
  if (lost) return { ok: false, reason: 'positions-in-use', sentence: lost }
  const { name } = await readTerms(scope)
  const content = libraryWith(inForce?.content ?? null, name, family)
  const changed = await changeLibrary(scope, { content, now, by })
  if (!changed.ok) return changed
  await dropLibraryDraft(scope, { id, now })
  return { ok: true, family: family.key }
}

/** Whether two versions of the library say different things of a family. */
function saysOtherwise(key: string, before: string | undefined, now: string | undefined): boolean {
  const said = (content: string | undefined) => JSON.stringify(content ? familyIn(content, key) : null)
  return said(before) !== said(now)
}

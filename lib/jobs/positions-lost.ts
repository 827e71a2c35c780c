import { type FamilyDraft, libraryWith } from '@/lib/intake/family-draft'
import { lostPositions } from '@/lib/intake/family-positions'
import { type Family, parseLibrary } from '@/lib/records/library'
import { readNamedPositions } from '@/lib/store/read/named-positions'
import type { OrganisationScope } from '@/lib/store/with-organisation'

/**
 * Positions of an engine that the organisation's records name and that a change of the engine would take away, in
 * one sentence for whoever changes it; null where there are none, or one of the two is not valid, which is told elsewhere.
 */
export async function positionsLost(
  scope: OrganisationScope,
  before: FamilyDraft,
  next: FamilyDraft,
): Promise<string | null> {
  const [old, changed] = [familyOf(before), familyOf(next)]
  return old && changed ? lostPositions(old, changed, await readNamedPositions(scope, next.key)) : null
}

function familyOf(draft: FamilyDraft): Family | null {
  const parsed = parseLibrary(libraryWith(null, 'draft', draft))
  return (parsed.ok && parsed.library.families[0]) || null
}

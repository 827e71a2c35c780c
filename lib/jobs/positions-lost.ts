import { type FamilyDraft, libraryWith } from '@/lib/intake/family-draft'
import { lostPositions } from '@/lib/intake/family-positions'
import { type Family, parseLibrary } from '@/lib/records/library'
import { readNamedPositions } from '@/lib/store/read/named-positions'
import type { OrganisationScope } from '@/lib/store/with-organisation'

/**
 * Positions of an engine that the organisation's records name and that a change of the engine would take away, in
 * sentences for whoever changes it; none where one of the two is not valid, which is told elsewhere.
 */
export async function positionsLost(
  scope: OrganisationScope,
  before: FamilyDraft,
  next: FamilyDraft,
): Promise<string[]> {
  const [old, changed] = [familyOf(before), familyOf(next)]
  return old && changed ? lostPositions(old, changed, await readNamedPositions(scope, next.key)) : []
}

function familyOf(draft: FamilyDraft): Family | null {
  const parsed = parseLibrary(libraryWith(null, 'draft', draft))
  return (parsed.ok && parsed.library.families[0]) || null
}

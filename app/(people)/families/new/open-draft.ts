import { notFound } from 'next/navigation'
import { type FamilyDraft, familyIn, libraryWith, zonesFor } from '@/lib/intake/family-draft'
import { type Family, parseLibrary } from '@/lib/records/library'
import { type Difference, familyDifferences } from '@/lib/records/library-differences'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readLibraryInForce, type StoredLibrary } from '@/lib/store/read/library-in-force'
import { readTerms } from '@/lib/store/read/terms'
import { readDraftReplay } from '@/lib/store/read/track-record'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'

/** The draft of a page, for whoever may state families; without one of that id there is no such page. */
export async function openDraft(id: string) {
  const { database, organisation } = await requirePerson('edit-library')
  const { terms, draft, inForce, replay } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    draft: await readLibraryDraft(scope, id),
    inForce: await readLibraryInForce(scope),
    replay: await readDraftReplay(scope, id),
  }))
  if (!draft) notFound()
  const family = withNames(draft.family as FamilyDraft)
  return {
    family,
    terms,
    formats: formatsFor(terms, terms.distance),
    /** The places of the engine that can be chosen from, in the order of the walk round it. */
    zones: zonesFor(inForce?.content ?? null, family),
    /** What it changes of the family that is in force; null where there is none of its key. */
    changes: changesOf(family, inForce),
    changedAt: draft.changedAt,
    /** What came out when it was tried on the past; null where there is nothing to hold it against. */
    replay: inForce && replay,
  }
}

/** What has no name in a library file goes by its key. */
const withNames = ({ key, name = key, signs, ...family }: FamilyDraft): FamilyDraft => ({
  ...family,
  key,
  name,
  signs: signs?.map((sign) => ({ ...sign, label: sign.label ?? sign.key })),
})

function changesOf(family: FamilyDraft, inForce: StoredLibrary | null): Difference[] | null {
  if (!inForce || !familyIn(inForce.content, family.key)) return null
  const [before, next] = [
    familyOf(inForce.content, family.key),
    familyOf(libraryWith(inForce.content, '', family), family.key),
  ]
  return before && next && familyDifferences(before, next)
}

function familyOf(content: string, key: string): Family | null {
  const parsed = parseLibrary(content)
  return (parsed.ok && parsed.library.families.find((each) => each.key === key)) || null
}

/** Where a draft is stated; `part` is a part of it. */
export const draftAddress = (id: string, part = '') => `/families/new/${id}${part && `/${part}`}`

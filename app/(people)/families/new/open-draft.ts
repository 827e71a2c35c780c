import { notFound } from 'next/navigation'
import type { FamilyDraft } from '@/lib/intake/family-draft'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'

/** The draft of a page, for whoever may state families; without one of that id there is no such page. */
export async function openDraft(id: string) {
  const { database, organisation } = await requirePerson('edit-library')
  const { terms, draft } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    draft: await readLibraryDraft(scope, id),
  }))
  if (!draft) notFound()
  return { family: draft.family as FamilyDraft, terms, formats: formatsFor(terms, terms.distance) }
}

/** Where a draft is stated; `part` is a part of it. */
export const draftAddress = (id: string, part = '') => `/families/new/${id}${part && `/${part}`}`

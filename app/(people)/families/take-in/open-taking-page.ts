import { notFound } from 'next/navigation'
import { openTaking } from '@/lib/jobs/open-taking'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'

/** The file of a page, for whoever may state families; without one of that id there is no such page. */
export async function openTakingPage(id: string) {
  const { database, organisation } = await requirePerson('edit-library')
  const { terms, open } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({ terms: await readTerms(scope), open: await openTaking(scope, id) }),
    'write',
  )
  if (!open) notFound()
  return { ...open, terms, formats: formatsFor(terms, terms.distance) }
}

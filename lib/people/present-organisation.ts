import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'

/**
 * The organisation that whoever is at the page works in. There is no sign-in yet: the product listens on this machine
 * alone, and everyone at it works in the oldest organisation.
 *
 * @returns null while there is no organisation
 */
export async function presentOrganisation(database: Database): Promise<OrganisationId | null> {
  const [oldest] = await readOrganisations(database)
  return oldest ? organisationId(oldest.id) : null
}

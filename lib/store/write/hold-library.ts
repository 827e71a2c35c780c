import { lockOrganisation } from '../inner/locks'
import type { OrganisationScope } from '../with-organisation'

/**
 * Waits until nobody else changes the organisation's library, and keeps others waiting until the end: for whoever reads
 * it in order to change it.
 */
export function holdLibrary(scope: OrganisationScope): Promise<void> {
  return lockOrganisation(scope, 'library')
}

import { lockOrganisation } from '../inner/locks'
import type { OrganisationScope } from '../with-organisation'

/** Waits until nobody else brings the organisation's scores up to date, and keeps others waiting until the end. */
export function holdScores(scope: OrganisationScope): Promise<void> {
  return lockOrganisation(scope, 'scores')
}

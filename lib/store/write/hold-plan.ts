import { lockOrganisation } from '../inner/locks'
import type { OrganisationScope } from '../with-organisation'

/** Keeps others who change the plan waiting until the end of the transaction. */
export const holdPlan = (scope: OrganisationScope): Promise<void> => lockOrganisation(scope, 'plan')

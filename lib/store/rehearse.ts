import type { Database } from './database'
import type { OrganisationId } from './organisation-id'
import { type OrganisationScope, withOrganisation } from './with-organisation'

/**
 * Does `work` in one transaction and takes all of it back: its answer says what would come of it, by the same code
 * that would do it.
 */
export async function rehearse<T>(
  database: Database,
  organisation: OrganisationId,
  work: (scope: OrganisationScope) => Promise<T>,
): Promise<T> {
  const answers: T[] = []
  const end = new Error('The rehearsal is over')
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      answers.push(await work(scope))
      throw end
    },
    'write',
  ).catch((error) => {
    if (error !== end) throw error
  })
  return answers[0] as T
}

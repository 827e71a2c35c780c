import type { OrganisationScope } from '../with-organisation'

/**
 * Waits until nobody else in the organisation does work of this name, until the end of the transaction.
 *
 * @param work `records`: what decides by the records that are there already; `scores`: bringing scores up to date;
 *   `library`: putting another one in force; `plan`: changing the plan of visits; `letters`: writing to customers
 */
export async function lockOrganisation(
  { tx, organisation }: OrganisationScope,
  work: 'records' | 'scores' | 'library' | 'plan' | 'letters',
): Promise<void> {
  await tx.$queryRaw`select pg_advisory_xact_lock(hashtextextended(${`${work} of ${organisation}`}, 0))::text`
}

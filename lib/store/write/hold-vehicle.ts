import type { OrganisationScope } from '../with-organisation'

/**
 * Keeps others who hold the vehicle waiting until the end: for whoever reads what there is of it in order to add to it.
 *
 * @returns false where there is no such vehicle
 */
export async function holdVehicle({ tx }: OrganisationScope, unit: string): Promise<boolean> {
  const held = await tx.$queryRaw<unknown[]>`
    select from vehicles where unit = ${unit} and withdrawn_at is null for no key update`
  return held.length > 0
}

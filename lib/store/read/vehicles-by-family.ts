import type { OrganisationScope } from '../with-organisation'

/**
 * How many vehicles name each family, whether the library knows it or not. Those that are sold, retired or withdrawn
 * are not counted.
 */
export async function readVehiclesByFamily({ tx }: OrganisationScope): Promise<Map<string, number>> {
  const found = await tx.$queryRaw<{ family: string; vehicles: number }[]>`
    select family, count(*)::int as vehicles from vehicles
    where status not in ('sold', 'retired') and withdrawn_at is null group by family order by family`
  return new Map(found.map(({ family, vehicles }) => [family, vehicles]))
}

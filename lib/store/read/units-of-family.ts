import type { OrganisationScope } from '../with-organisation'

/**
 * The vehicles of an engine family, whether the library knows it or not, in the order of their numbers; those that are
 * sold, retired or withdrawn are left out.
 */
export async function readUnitsOfFamily(
  { tx }: OrganisationScope,
  { family, most }: { family: string; most: number },
): Promise<string[]> {
  const found = await tx.$queryRaw<{ unit: string }[]>`
    select unit from vehicles
    where family = ${family} and status not in ('sold', 'retired') and withdrawn_at is null
    order by unit collate "C" limit ${most}`
  return found.map(({ unit }) => unit)
}

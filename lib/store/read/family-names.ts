import type { OrganisationScope } from '../with-organisation'

/** The names of engine families by their keys, as the watchlist shows them; one that no vehicle on it has is left out. */
export async function readFamilyNames(
  { tx }: OrganisationScope,
  keys: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  if (keys.length === 0) return new Map()
  const found = await tx.$queryRaw<{ key: string; name: string }[]>`
    select family as key, min(family_name) as name from vehicle_scores
    where family = any(${keys}::text[]) group by family`
  return new Map(found.map(({ key, name }) => [key, name]))
}

import type { OrganisationScope } from '../with-organisation'

/** What the list can be narrowed by, as it occurs among the vehicles on it, in order. */
export type WatchlistChoices = {
  families: { key: string; name: string }[]
  sites: string[]
  weakPoints: string[]
}

const MOST = 200

/** The values to choose from; the first 200 of each. */
export async function readWatchlistChoices(
  { tx }: OrganisationScope,
  horizonDays: number,
): Promise<WatchlistChoices> {
  const families = await tx.$queryRaw<WatchlistChoices['families']>`
    select family as key, min(family_name) as name from vehicle_scores
    where horizon_days = ${horizonDays} group by family order by lower(min(family_name)) limit ${MOST}`
  const sites = await tx.$queryRaw<{ site: string }[]>`
    select site from vehicle_scores where horizon_days = ${horizonDays} and site is not null
    group by site order by lower(site), site limit ${MOST}`
  const weakPoints = await tx.$queryRaw<{ name: string }[]>`
    select leading_name as name from vehicle_scores
    where horizon_days = ${horizonDays} and leading_name is not null
    group by leading_name order by lower(leading_name), leading_name limit ${MOST}`
  return {
    families,
    sites: sites.map(({ site }) => site),
    weakPoints: weakPoints.map(({ name }) => name),
  }
}

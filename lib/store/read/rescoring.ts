import type { OrganisationScope } from '../with-organisation'
import { readScoringGround } from './scoring-ground'
import { countStaleVehicles } from './stale-vehicles'

/** How many of the vehicles whose scores did not rest on what is there now have been scored anew. */
export type Rescoring = { done: number; total: number }

/**
 * How far it is with bringing scores up to date.
 *
 * @param now the present instant
 * @returns null where every score is, and before the first library
 */
export async function readRescoring(scope: OrganisationScope, now: Date): Promise<Rescoring | null> {
  const ground = await readScoringGround(scope, now)
  const stale = ground ? await countStaleVehicles(scope, ground) : 0
  if (stale === 0) return null
  const [job] = await scope.tx.$queryRaw<{ total: number }[]>`
    select total from jobs where kind = 'rescore-vehicles' and state = 'running'`
  const total = Math.max(job?.total ?? 0, stale)
  return { done: total - stale, total }
}

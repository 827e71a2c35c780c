import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { countStaleVehicles, readStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { readStaleUsage } from '@/lib/store/read/usage-facts'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { holdScores } from '@/lib/store/write/hold-scores'
import { lookAtFilledTables } from '@/lib/store/write/look-at-filled-tables'
import { freshenUsage } from './inner/score-stale'
import { scorerOn } from './inner/scorer-on'

/** So many vehicles are one transaction: what is cut short is at most that much work lost. */
const SCORED_AT_ONCE = 25
const USAGE_AT_ONCE = 500

/**
 * Brings every stale score of an organisation up to date: those whose records, library, settings, class of use or day
 * have changed. Several may do so at once: they take turns, and none does what another has done.
 *
 * @param now the present instant
 * @param onProgress told how many vehicles are done, of how many
 * @returns how many vehicles were scored; none without a library
 */
export async function freshenScores(
  database: Database,
  organisation: OrganisationId,
  now: Date,
  onProgress?: (done: number, total: number) => Promise<void> | void,
): Promise<number> {
  await lookAtFilledTables(database) // what makes scores stale may have been the first rows of all
  let done = 0
  let total: number | null = null
  for (;;) {
    const scored = await withOrganisation(database, organisation, (scope) => freshenSome(scope, now), 'write')
    if (scored === null) return done
    if (scored === 0) continue
    total ??= scored + (await withOrganisation(database, organisation, (scope) => countStale(scope, now)))
    done += scored
    await onProgress?.(done, Math.max(done, total))
  }
}

/** Does the next part of the work. @returns how many vehicles were scored; null where nothing is stale */
async function freshenSome(scope: OrganisationScope, now: Date): Promise<number | null> {
  await holdScores(scope)
  const ground = await readScoringGround(scope, now)
  if (!ground) return null
  const usage = await readStaleUsage(scope, ground.asOf, USAGE_AT_ONCE)
  if (usage.length > 0) {
    await freshenUsage(scope, ground, usage)
    return 0
  }
  const stale = await readStaleVehicles(scope, ground, { limit: SCORED_AT_ONCE })
  if (stale.length === 0) return null
  const scorer = await scorerOn(scope, ground)
  await scorer.score(scope, stale, now)
  return stale.length
}

async function countStale(scope: OrganisationScope, now: Date): Promise<number> {
  const ground = await readScoringGround(scope, now)
  return ground ? countStaleVehicles(scope, ground) : 0
}

import type { ComponentScore } from '@/lib/decisions/score-fleet'
import type { Horizon } from '@/lib/scoring/ahead'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { scorerOn } from './inner/scorer-on'

/**
 * Scores one vehicle anew from its records, as of today, for horizons of which no scores need be kept. Its class is used
 * as was last found out: bring the organisation's scores up to date first.
 *
 * @param now the present instant
 * @returns one score a component and horizon; none for a vehicle that is not scored, or before the first library
 */
export async function scoreVehicle(
  scope: OrganisationScope,
  { unit, horizons }: { unit: string; horizons: readonly Horizon[] },
  now: Date,
): Promise<ComponentScore[]> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return []
  const scorer = await scorerOn(scope, ground)
  return scorer.scoreAt(scope, unit, horizons)
}

import type { OrganisationId } from '@/lib/store/organisation-id'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { Scorer } from './score-stale'

/** Compiling a library takes longer than scoring a vehicle; a process that scores them one by one keeps the last few. */
const MOST_KEPT = 8
const kept = new Map<OrganisationId, Scorer>()

/** The scorer on the ground of the scope's organisation, which was read in the same scope. */
export async function scorerOn(scope: OrganisationScope, ground: ScoringGround): Promise<Scorer> {
  const { organisation } = scope
  const known = kept.get(organisation)
  const scorer = known?.ground.text === ground.text ? known : new Scorer(ground, await readFitInForce(scope))
  kept.delete(organisation)
  kept.set(organisation, scorer)
  const [oldest] = kept.keys()
  if (kept.size > MOST_KEPT && oldest) kept.delete(oldest)
  return scorer
}

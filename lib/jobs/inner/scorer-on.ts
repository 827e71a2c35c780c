import type { OrganisationId } from '@/lib/store/organisation-id'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import { Scorer } from './score-stale'

/** Compiling a library takes longer than scoring a vehicle; a process that scores them one by one keeps the last few. */
const MOST_KEPT = 8
const kept = new Map<OrganisationId, Scorer>()

/** The scorer on an organisation's ground. */
export function scorerOn(ground: ScoringGround, organisation: OrganisationId): Scorer {
  const known = kept.get(organisation)
  const scorer = known?.ground.text === ground.text ? known : new Scorer(ground)
  kept.delete(organisation)
  kept.set(organisation, scorer)
  const [oldest] = kept.keys()
  if (kept.size > MOST_KEPT && oldest) kept.delete(oldest)
  return scorer
}

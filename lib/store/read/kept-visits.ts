import type { VisitChoice } from '@/lib/decisions/visit-choice'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/** A vehicle with what its score has to rest on now; `visit` is null where what is kept rests on something else. */
export type KeptVisit = { unit: string; basis: string; visit: VisitChoice | null }

/** What could be done on the visits of some vehicles, as it was reckoned with their scores. */
export function readKeptVisits(
  { tx }: OrganisationScope,
  ground: ScoringGround,
  units: string[],
): Promise<KeptVisit[]> {
  return tx.$queryRawUnsafe<KeptVisit[]>(
    `select vehicle.unit, ${BASIS} as basis, case when vehicle.scored_from = ${BASIS} then score.visit end as visit
     from ${WITH_CLASS_RATE}
       left join vehicle_scores score on score.organisation_id = vehicle.organisation_id
         and score.vehicle_id = vehicle.id and score.horizon_days = ${HISTORY_HORIZON_DAYS}
     where vehicle.unit = any($2::text[])`,
    ground.text,
    units,
  )
}

import { jobsBeforeSale, type SaleJob } from '@/lib/decisions/before-sale'
import { doneFirst, type FirstJob } from '@/lib/decisions/done-first'
import type { Cover } from '@/lib/decisions/set-aside'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { readCoverTerms } from '@/lib/store/read/cover-terms'
import { readRecords } from '@/lib/store/read/records'
import { readScoringBasis } from '@/lib/store/read/scoring-basis'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { coverGiven } from './inner/cover-given'
import { LastAsked } from './inner/last-asked'
import { scorerOn } from './inner/scorer-on'

/** What to fix before a vehicle is sold. */
export type BeforeSale = {
  asOf: Day
  cover: Cover
  /** What must be done in any case; the jobs are weighed after it. */
  first: { jobs: FirstJob[]; cost: number } | null
  /** Weak points whose jobs have no price: nothing can be said of them. */
  unpriced: string[]
  jobs: SaleJob[]
}

const MOST_KEPT = 64
const kept = new LastAsked<BeforeSale>(MOST_KEPT)

/**
 * Which jobs bring back more than they cost before a vehicle is sold, under the cover that it is given.
 *
 * @param now the present instant
 * @returns null where the vehicle is not assessed
 */
export async function vehicleBeforeSale(
  scope: OrganisationScope,
  unit: string,
  now: Date,
): Promise<BeforeSale | null> {
  const scoring = await readScoringGround(scope, now)
  const basis = scoring && (await readScoringBasis(scope, unit, scoring))
  if (!basis) return null
  const terms = await readCoverTerms(scope, unit)
  const key = JSON.stringify([scope.organisation, unit, basis, terms?.id])
  const known = kept.get(key)
  if (known) return known
  const ground = await (await scorerOn(scope, scoring)).groundOf(scope, unit)
  const [records] = groupByVehicle(await readRecords(scope, [unit]))
  if (!ground || !records) return null
  const { first, after } = doneFirst(ground)
  const given = coverGiven(records.vehicle, ground, terms)
  const { components } = ground.vehicle.belief.plan
  const unpriced = components.filter(({ weakPoint: { cost } }) => cost.parts === 0 && cost.hours === 0)
  return kept.keep(key, {
    ...{ asOf: ground.clock.asOf, cover: given.cover, first },
    unpriced: [...new Set(unpriced.map(({ weakPoint }) => weakPoint.component))],
    jobs: jobsBeforeSale(after, given),
  })
}

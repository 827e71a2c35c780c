import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** The day as of which the organisation's vehicles were last scored; null before the first time. */
export async function readScoredOn({ tx }: OrganisationScope): Promise<Day | null> {
  const [found] = await tx.$queryRaw<{ asOf: Day | null }[]>`
    select max(as_of) - date '1970-01-01' as "asOf" from vehicle_scores`
  return found?.asOf ?? null
}

import type { PlanTermsStated } from '@/lib/decisions/plan-weeks'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** Says what plans are made from, from now on; what was said before is kept. */
export async function putPlanTerms(
  { tx, organisation }: OrganisationScope,
  { weeks, bays, kept }: PlanTermsStated,
  { now, by }: { now: Date; by: string | null },
): Promise<void> {
  await tx.$executeRaw`
    insert into plan_terms (organisation_id, id, weeks, bays, kept, made_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${weeks}, ${JSON.stringify(bays)}::jsonb, ${kept}, ${now},
      ${by}::uuid)`
}

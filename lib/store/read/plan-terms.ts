import type { PlanTermsStated } from '@/lib/decisions/plan-weeks'
import type { OrganisationScope } from '../with-organisation'

/** What plans are made from, and when that was said. */
export type StoredPlanTerms = PlanTermsStated & { madeAt: Date }

/** The terms that hold; null before the first. */
export async function readPlanTerms({ tx }: OrganisationScope): Promise<StoredPlanTerms | null> {
  const [found] = await tx.$queryRaw<StoredPlanTerms[]>`
    select weeks, bays, kept, made_at as "madeAt" from plan_terms order by made_at desc, id desc limit 1`
  return found ?? null
}

import type { OrganisationScope } from '../with-organisation'
import { PLAN, type PlanContent, type StoredPlan } from './plan-in-force'

/** A plan that is proposed in the place of the one in force. */
export type PlanProposal = StoredPlan & {
  proposedAt: Date
  /** Somebody has left it. */
  leftAt: Date | null
}

/** The plan that was proposed last, whether or not somebody left it; null where there is none, or it was taken. */
export async function readPlanProposal({ tx }: OrganisationScope): Promise<PlanProposal | null> {
  const [found] = await tx.$queryRaw<(Omit<PlanProposal, 'content'> & { content: string })[]>`
    select ${PLAN}, proposed_at as "proposedAt", left_at as "leftAt"
    from plans where proposed_at is not null and in_force_at is null order by proposed_at desc limit 1`
  return found ? { ...found, content: JSON.parse(found.content) as PlanContent } : null
}

/** Whether a proposal was asked for since an instant, whatever became of it, or is being made. */
export async function readIsPlanProposalAsked({ tx }: OrganisationScope, since: Date): Promise<boolean> {
  const found = await tx.$queryRaw<unknown[]>`
    select from jobs where kind = 'plan-anew' and (state = 'running' or started_at > ${since}) limit 1`
  return found.length > 0
}

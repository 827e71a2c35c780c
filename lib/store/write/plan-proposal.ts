import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'
import { keepPlan, type NewPlan } from './keep-plan'

/** Asks that a plan be proposed in the place of the one in force. Asked twice, it is done once. */
export async function askPlanProposal(
  { tx, organisation }: OrganisationScope,
  { by, now }: { by: string | null; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, 'plan-anew', 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id) where state = 'running' and kind = 'plan-anew' do nothing`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

/** Keeps a plan as the one that is proposed; an earlier proposal gives way to it, the plan in force stays. */
export async function keepPlanProposal(scope: OrganisationScope, plan: NewPlan, now: Date): Promise<void> {
  await keepPlan(scope, plan, null)
  await scope.tx.$executeRaw`
    delete from plans where proposed_at is not null and in_force_at is null and id <> ${plan.id}::uuid`
  await scope.tx.$executeRaw`update plans set proposed_at = ${now} where id = ${plan.id}::uuid`
}

/** Puts the proposed plan in force; the one before stays, so that it can be put back. @returns whether it was there */
export async function putProposalInForce(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<boolean> {
  const [before] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from plans where in_force_at is not null order by in_force_at desc, id desc limit 1`
  const taken = await tx.$executeRaw`
    update plans set in_force_at = ${now}
    where id::text = ${id} and proposed_at is not null and in_force_at is null and left_at is null`
  if (taken === 0) return false
  await tx.$executeRaw`delete from plans where id::text <> ${id} and id::text is distinct from ${before?.id ?? null}`
  return true
}

/** Leaves the proposed plan: it is not told any more. @returns whether it was there */
export async function leaveProposal(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<boolean> {
  const left = await tx.$executeRaw`
    update plans set left_at = ${now}
    where id::text = ${id} and proposed_at is not null and in_force_at is null and left_at is null`
  return left > 0
}

/** A plan that was taken or left is proposed again; the one that was in force before it is so once more. */
export async function proposeAgain({ tx }: OrganisationScope, id: string): Promise<void> {
  await tx.$executeRaw`update plans set in_force_at = null, left_at = null where id::text = ${id}`
}

import type { Job } from '../job'
import type { OrganisationScope } from '../with-organisation'
import { readPlan, type StoredPlan } from './plan-in-force'

/** Planning that is under way, with the best plan so far; and why it failed, where it did since the plan in force. */
export type PlanProgress = {
  job: (Pick<Job, 'id' | 'done' | 'total' | 'message'> & { startedAt: Date }) | null
  soFar: StoredPlan | null
  failure: string | null
}

export async function readPlanProgress(scope: OrganisationScope): Promise<PlanProgress> {
  const [job] = await scope.tx.$queryRaw<NonNullable<PlanProgress['job']>[]>`
    select id::text, done, total, message, started_at as "startedAt" from jobs where kind = 'plan' and state = 'running'`
  const soFar = job ? await readPlan(scope, job.id) : null
  const [failed] = job
    ? []
    : await scope.tx.$queryRaw<{ message: string }[]>`
        select message from jobs where kind = 'plan' and state = 'failed'
          and finished_at > coalesce((select max(in_force_at) from plans), '-infinity')
        order by finished_at desc limit 1`
  return { job: job ?? null, soFar, failure: failed?.message ?? null }
}

/** Whether planning is still wanted: nobody has stopped it. It stays so until the transaction ends. */
export async function readPlanIsWanted({ tx }: OrganisationScope, id: string): Promise<boolean> {
  const found = await tx.$queryRaw<unknown[]>`
    select from jobs where id = ${id}::uuid and state = 'running' for update`
  return found.length > 0
}

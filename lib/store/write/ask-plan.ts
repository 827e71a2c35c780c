import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/** Asks that a plan be made. Asked twice, it is done once. */
export async function askPlan(
  { tx, organisation }: OrganisationScope,
  { by, now }: { by: string | null; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, 'plan', 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id) where state = 'running' and kind = 'plan' do nothing`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

/** Stops planning: whoever does it puts the best so far in force, if there is one. */
export async function stopPlan(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    update jobs set state = 'stopped', finished_at = ${now}
    where id::text = ${id} and state = 'running' and kind = 'plan'`
}

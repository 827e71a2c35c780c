import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

type Asking = { by: string | null; now: Date }

/** Asks that the organisation's past be replayed with the library in force. Asked twice, it is done once. */
export async function askReplay({ tx, organisation }: OrganisationScope, { by, now }: Asking): Promise<void> {
  await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, 'replay', 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id) where state = 'running' and kind = 'replay' do nothing`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

/** Asks that a draft of a library be tried on the past. The job has the id of the draft. Asked twice, it is done once. */
export async function askDraftReplay(
  { tx, organisation }: OrganisationScope,
  { draft, by, now }: Asking & { draft: string },
): Promise<void> {
  await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${draft}::uuid, 'replay-draft', 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id, id) do update set state = 'running', done = 0, total = null, message = null,
      started_at = excluded.started_at, finished_at = null, made_by = excluded.made_by
      where jobs.state <> 'running'`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

/** Stops a replay that is under way or asked for; what was there before stays. */
export async function stopReplay(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    update jobs set state = 'stopped', finished_at = ${now}
    where id::text = ${id} and state = 'running' and kind in ('replay', 'replay-draft')`
}

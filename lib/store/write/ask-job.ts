import type { IntakeJob, WorkbookJob } from '../job'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/**
 * Asks for long work and wakes whoever does it. Asked twice, it is done once.
 *
 * @returns whether it was asked for now; false where it is under way already
 */
export async function askJob(
  { tx, organisation }: OrganisationScope,
  { id, kind, by, now }: { id: string; kind: IntakeJob | WorkbookJob; by: string | null; now: Date },
): Promise<boolean> {
  const asked = await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${id}::uuid, ${kind}, 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id, id) do update set kind = excluded.kind, state = 'running', done = 0, total = null,
      message = null, started_at = excluded.started_at, finished_at = null, made_by = excluded.made_by
      where jobs.state <> 'running'`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
  return asked === 1
}

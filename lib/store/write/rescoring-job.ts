import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/**
 * Notes that scores are being brought up to date, for whoever wants to see how far it is. What a process that was
 * killed has left as running is taken over.
 *
 * @returns the job's id
 */
export async function beginRescoring(
  { tx, organisation }: OrganisationScope,
  { total, now }: { total: number; now: Date },
): Promise<string> {
  const [job] = await tx.$queryRaw<{ id: string }[]>`
    insert into jobs (organisation_id, id, kind, state, total, started_at)
    values (${organisation}::uuid, ${newId(now)}::uuid, 'rescore-vehicles', 'running', ${total}, ${now})
    on conflict (organisation_id) where state = 'running' and kind = 'rescore-vehicles'
      do update set done = 0, total = excluded.total, started_at = excluded.started_at
    returning id::text`
  if (!job) throw new Error('The job was not noted')
  return job.id
}

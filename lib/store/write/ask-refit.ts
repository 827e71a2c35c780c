import { newId } from '../inner/new-id'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/** Asks that the organisation's records be learned from. Asked twice, it is done once. */
export async function askRefit(
  { tx, organisation }: OrganisationScope,
  { by, now }: { by: string | null; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    insert into jobs (organisation_id, id, kind, state, started_at, made_by)
    values (${organisation}::uuid, ${newId(now)}::uuid, 'refit', 'running', ${now}, ${by}::uuid)
    on conflict (organisation_id) where state = 'running' and kind = 'refit' do nothing`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}

import type { OrganisationScope } from '../with-organisation'

/** A replay that somebody asked for; of the library in force, or of a draft. */
export type AskedReplay = { id: string; draft: string | null; by: string | null; askedAt: Date }

/** The replays that were asked for and are not done, the longest waiting first. */
export function readAskedReplays({ tx }: OrganisationScope): Promise<AskedReplay[]> {
  return tx.$queryRaw<AskedReplay[]>`
    select id::text, case when kind = 'replay-draft' then id::text end as draft, made_by::text as by, started_at as "askedAt"
    from jobs
    where state = 'running' and kind in ('replay', 'replay-draft') order by started_at, id`
}

/** Whether a replay is still wanted: nobody has stopped it, nor asked anew since. It stays so until the transaction ends. */
export async function readIsWanted(
  { tx }: OrganisationScope,
  { id, askedAt }: AskedReplay,
): Promise<boolean> {
  const [found] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from jobs where id = ${id}::uuid and state = 'running' and started_at = ${askedAt} for update`
  return found !== undefined
}

import type { OrganisationScope } from '../with-organisation'

/** A replay that somebody asked for; of the library in force, or of a draft. */
export type AskedReplay = { id: string; draft: string | null; by: string | null }

/** The replays that were asked for and are not done, the longest waiting first. */
export function readAskedReplays({ tx }: OrganisationScope): Promise<AskedReplay[]> {
  return tx.$queryRaw<AskedReplay[]>`
    select id::text, case when kind = 'replay-draft' then id::text end as draft, made_by::text as by from jobs
    where state = 'running' and kind in ('replay', 'replay-draft') order by started_at, id`
}

/** Whether a job is still wanted: nobody has stopped it. */
export async function readIsRunning({ tx }: OrganisationScope, id: string): Promise<boolean> {
  const [found] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from jobs where id = ${id}::uuid and state = 'running'`
  return found !== undefined
}

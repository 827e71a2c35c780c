import type { OrganisationScope } from '../with-organisation'

/** Work of certain kinds that somebody asked for. */
export type AskedJob<Kind extends string> = { id: string; kind: Kind; by: string | null }

/** The work of these kinds that was asked for and is not done, the longest waiting first. */
export async function readAskedJobs<Kind extends string>(
  { tx }: OrganisationScope,
  kinds: readonly Kind[],
): Promise<AskedJob<Kind>[]> {
  return tx.$queryRaw<AskedJob<Kind>[]>`
    select id::text, kind, made_by::text as by from jobs
    where state = 'running' and kind = any(${[...kinds]}::text[]) order by started_at, id`
}

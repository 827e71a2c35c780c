import { INTAKE_JOBS, type IntakeJob } from '../job'
import type { OrganisationScope } from '../with-organisation'

/** Work that somebody asked for. */
export type AskedJob = { id: string; kind: IntakeJob; by: string | null }

/** The work on files that was asked for and is not done, the longest waiting first. */
export async function readAskedJobs({ tx }: OrganisationScope): Promise<AskedJob[]> {
  return tx.$queryRaw<AskedJob[]>`
    select id::text, kind, made_by::text as by from jobs
    where state = 'running' and kind = any(${[...INTAKE_JOBS]}::text[]) order by started_at, id`
}

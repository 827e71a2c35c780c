import type { Database } from '@/lib/store/database'
import { INTAKE_JOBS, type IntakeJob } from '@/lib/store/job'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AskedJob, readAskedJobs } from '@/lib/store/read/asked-jobs'
import { countIntakeBytes } from '@/lib/store/read/intake'
import { withOrganisation } from '@/lib/store/with-organisation'
import { noteIntakeState } from '@/lib/store/write/note-intake'
import { endJob } from '@/lib/store/write/note-job'
import { toldFailure } from './inner/failure'
import { intakeApart } from './inner/intake-apart'
import { onBehalf } from './inner/on-behalf'
import { workOnIntake } from './inner/work-on-intake'

/** Where work on large files is done in a process of its own: the product's address, and what ends it. */
export type Apart = { url: string; signal: AbortSignal }

/**
 * Does what was asked of files that are brought in: reads them, takes them in, takes them back. Work that was cut off
 * is done again; what had gone in stays in.
 *
 * @param now the present instant, each time that it is asked
 * @param apart without it everything is done here
 */
export async function workOnIntakes(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
  apart?: Apart,
): Promise<void> {
  for (const job of await withOrganisation(database, organisation, (scope) =>
    readAskedJobs(scope, INTAKE_JOBS),
  )) {
    const failure = await workOn(database, organisation, job, now, apart)
    if (apart?.signal.aborted) return // it is done again after the next start
    await withOrganisation(
      database,
      organisation,
      async (scope) => {
        if (failure !== null && job.kind === 'intake-enter')
          await noteIntakeState(scope, job.id, 'failed', now())
        await endJob(scope, job.id, { failure, now: now() })
      },
      'write',
    )
  }
}

/** Files of so many bytes are worth starting a process. */
const APART_FROM_BYTES = 4_000_000

/** @returns why it came to nothing; null where it did not */
async function workOn(
  database: Database,
  organisation: OrganisationId,
  job: AskedJob<IntakeJob>,
  now: () => Date,
  apart: Apart | undefined,
): Promise<string | null> {
  const bytes = await withOrganisation(database, organisation, (scope) => countIntakeBytes(scope, job.id))
  if (apart && bytes >= APART_FROM_BYTES)
    return intakeApart(
      { ...job, url: apart.url, organisation, bytes, aheadMs: now().getTime() - Date.now() },
      apart,
    )
  return workOnIntake(onBehalf(database, job.by), organisation, job, now).then(
    () => null,
    (error: unknown) => toldFailure(error),
  )
}

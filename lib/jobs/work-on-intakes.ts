import type { Database } from '@/lib/store/database'
import { INTAKE_JOBS, type IntakeJob } from '@/lib/store/job'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AskedJob, readAskedJobs } from '@/lib/store/read/asked-jobs'
import { withOrganisation } from '@/lib/store/with-organisation'
import { noteIntakeState } from '@/lib/store/write/note-intake'
import { endJob, type JobProgress, noteProgress } from '@/lib/store/write/note-job'
import { bringIntakeBack, takeBackIntake } from '@/lib/store/write/take-back-intake'
import { enterIntake } from './enter-intake'
import { toldFailure } from './inner/failure'
import { previewIntake } from './preview-intake'

/**
 * Does what was asked of files that are brought in: reads them, takes them in, takes them back. Work that was cut off
 * is done again; what had gone in stays in.
 *
 * @param now the present instant, each time that it is asked
 */
export async function workOnIntakes(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
): Promise<void> {
  for (const job of await withOrganisation(database, organisation, (scope) =>
    readAskedJobs(scope, INTAKE_JOBS),
  )) {
    const failure = await workOn(database, organisation, job, now).then(
      () => null,
      (error: unknown) => toldFailure(error),
    )
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

/** Progress is written no more often than people can see it move. */
const MS_BETWEEN_NOTES = 300

async function workOn(
  database: Database,
  organisation: OrganisationId,
  { id, kind, by }: AskedJob<IntakeJob>,
  now: () => Date,
): Promise<unknown> {
  let noted = 0
  const onProgress = async (progress: JobProgress) => {
    if (performance.now() - noted < MS_BETWEEN_NOTES) return
    noted = performance.now()
    await withOrganisation(database, organisation, (scope) => noteProgress(scope, id, progress), 'write')
  }
  const act = { id, by, now: now() }
  const work: Record<IntakeJob, () => Promise<unknown>> = {
    'intake-read': () => previewIntake(database, organisation, id, now()),
    'intake-enter': () => enterIntake(database, organisation, id, { by, now, onProgress }),
    'intake-take-back': () =>
      withOrganisation(database, organisation, (scope) => takeBackIntake(scope, act), 'write'),
    'intake-bring-back': () =>
      withOrganisation(database, organisation, (scope) => bringIntakeBack(scope, act), 'write'),
  }
  return work[kind]()
}

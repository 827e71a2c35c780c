import type { Database } from '@/lib/store/database'
import type { IntakeJob } from '@/lib/store/job'
import type { OrganisationId } from '@/lib/store/organisation-id'
import type { AskedJob } from '@/lib/store/read/asked-jobs'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type JobProgress, noteProgress } from '@/lib/store/write/note-job'
import { bringIntakeBack, takeBackIntake } from '@/lib/store/write/take-back-intake'
import { enterIntake } from '../enter-intake'
import { previewIntake } from '../preview-intake'
import { JobRefusal } from './failure'

/** Progress is written no more often than people can see it move. */
const MS_BETWEEN_NOTES = 300

/**
 * Does one thing that was asked of files that are brought in.
 *
 * @throws JobRefusal where it cannot be done, or where somebody stops it
 */
export async function workOnIntake(
  database: Database,
  organisation: OrganisationId,
  { id, kind, by }: AskedJob<IntakeJob>,
  now: () => Date,
): Promise<void> {
  let noted = Number.NEGATIVE_INFINITY
  const onProgress = async (progress: JobProgress) => {
    if (performance.now() - noted < MS_BETWEEN_NOTES) return
    noted = performance.now()
    const goesOn = await withOrganisation(
      database,
      organisation,
      (scope) => noteProgress(scope, id, progress),
      'write',
    )
    if (!goesOn) throw new JobRefusal('It was stopped')
  }
  await onProgress({ done: 0, total: 0, message: '' }) // it may have been stopped while it waited
  const act = { id, by, now: now() }
  const work: Record<IntakeJob, () => Promise<unknown>> = {
    'intake-read': () => previewIntake(database, organisation, id, now(), onProgress),
    'intake-enter': () => enterIntake(database, organisation, id, { by, now, onProgress }),
    'intake-take-back': () =>
      withOrganisation(database, organisation, (scope) => takeBackIntake(scope, act), 'write'),
    'intake-bring-back': () =>
      withOrganisation(database, organisation, (scope) => bringIntakeBack(scope, act), 'write'),
  }
  await work[kind]()
}

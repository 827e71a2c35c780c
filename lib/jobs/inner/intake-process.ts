/** A process that does one thing with large files that are brought in. */
import { openDatabase } from '@/lib/store/database'
import type { IntakeJob } from '@/lib/store/job'
import type { OrganisationId } from '@/lib/store/organisation-id'
import type { AskedJob } from '@/lib/store/read/asked-jobs'
import { toldFailure } from './failure'
import { onBehalf } from './on-behalf'
import { workOnIntake } from './work-on-intake'

/** What is to be done, in which database, and how far the clock of whoever asked is ahead of the machine's. */
export type IntakeTask = AskedJob<IntakeJob> & {
  url: string
  organisation: OrganisationId
  /** How large the files are. */
  bytes: number
  aheadMs: number
}

/** That it is over, and why it came to nothing where it did. */
export type IntakeDone = { failure: string | null }

process.on('message', async ({ url, organisation, aheadMs, ...job }: IntakeTask) => {
  const database = onBehalf(await openDatabase(url, { kind: 'job', name: 'intake' }), job.by)
  const now = () => new Date(Date.now() + aheadMs)
  const failure = await workOnIntake(database, organisation, job, now).then(
    () => null,
    (error: unknown) => toldFailure(error),
  )
  process.send?.({ failure } satisfies IntakeDone)
})
// A terminal tells every process of its end; whoever asked ends this one, and where that is gone, it goes too.
process.on('SIGINT', () => {})
process.on('disconnect', () => process.exit())

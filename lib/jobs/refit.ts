import { parseLibrary } from '@/lib/records/library'
import type { FitProgress } from '@/lib/scoring/fit-fleet'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type Learning, readLearning } from '@/lib/store/read/learning'
import { readRecords } from '@/lib/store/read/records'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addFit } from '@/lib/store/write/add-fit'
import { askRefit } from '@/lib/store/write/ask-refit'
import { endJob, noteProgress } from '@/lib/store/write/note-job'
import { dayIn } from '@/lib/units/dates'
import { JobRefusal, toldFailure } from './inner/failure'
import { learnApart } from './inner/learn-apart'
import { onBehalf } from './inner/on-behalf'

/** Fewer new renewals than this, or than this share of those learned from, teach too little to score all anew. */
const LEAST_NEW = 20
const LEAST_NEW_SHARE = 0.05

/**
 * Learns from an organisation's records where somebody asked for it, or where enough has come in since the day of the
 * last time: then once a night. What was learned before is in force until the new is whole.
 *
 * @param signal ends the work; it is begun again the next time
 */
export async function refitWhenDue(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
  signal?: AbortSignal,
): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  if (!(await write((scope) => askWhenDue(scope, now())))) return
  const { job } = await withOrganisation(database, organisation, readLearning)
  if (!job) return
  const failure = await refit(database, organisation, job, { now, signal }).then(
    () => null,
    (error: unknown) => (signal?.aborted ? null : toldFailure(error)),
  )
  if (signal?.aborted) return
  await write((scope) => endJob(scope, job.id, { failure, now: now() }))
}

/** @returns whether there is learning to do */
async function askWhenDue(scope: OrganisationScope, now: Date): Promise<boolean> {
  const learning = await readLearning(scope)
  if (learning.job) return true
  const ground = await readScoringGround(scope, now)
  if (!ground || !isDue(learning, ground)) return false
  await askRefit(scope, { by: null, now })
  return true
}

function isDue({ last, renewals, failure }: Learning, { settings, asOf, since }: ScoringGround): boolean {
  const lastDay = dayIn(settings.timeZone, failure?.at ?? last?.madeAt ?? since)
  const before = last?.renewals ?? 0
  const enough = Math.max(LEAST_NEW, LEAST_NEW_SHARE * before)
  return lastDay < asOf && renewals - before >= enough
}

async function refit(
  database: Database,
  organisation: OrganisationId,
  { id, by }: NonNullable<Learning['job']>,
  { now, signal }: { now: () => Date; signal?: AbortSignal },
): Promise<void> {
  const { ground, records, renewals } = await withOrganisation(database, organisation, async (scope) => ({
    ground: await readScoringGround(scope, now()),
    records: await readRecords(scope),
    renewals: (await readLearning(scope)).renewals,
  }))
  if (!ground) throw new JobRefusal('There is no library to learn under: state a family first')
  const parsed = parseLibrary(ground.library.content)
  if (!parsed.ok) throw new JobRefusal(`The library in force is not valid: ${parsed.errors[0]?.message}`)
  const { library } = parsed
  const { asOf } = ground
  let noting: Promise<unknown> = Promise.resolve()
  const onProgress = (progress: FitProgress) => {
    const told = { ...progress, message: 'Learning from the records' }
    const note = () =>
      withOrganisation(database, organisation, (scope) => noteProgress(scope, id, told), 'write')
    // What cannot be noted now is noted with the next.
    noting = noting.then(note).catch(() => {})
  }
  const content = await learnApart({ records, library, asOf }, onProgress, signal)
  await noting
  const learned = { content, libraryVersion: ground.library.version }
  await withOrganisation(
    onBehalf(database, by),
    organisation,
    (scope) => addFit(scope, { ...learned, asOf, renewals, by, now: now() }),
    'write',
  )
}

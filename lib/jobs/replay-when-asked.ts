import { type Library, parseLibrary } from '@/lib/records/library'
import { defaultPlan, leastDaysOfRecords } from '@/lib/replay/default-plan'
import type { ReplayProgress } from '@/lib/replay/look-back'
import { tryOutApart } from '@/lib/replay/look-back-together'
import type { TryOut } from '@/lib/replay/try-out'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AskedReplay, readAskedReplays, readIsWanted } from '@/lib/store/read/asked-replays'
import { readLibraryDraftUnheld } from '@/lib/store/read/library-drafts'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addReplay, type NewReplay } from '@/lib/store/write/add-replay'
import { endJob, noteProgress } from '@/lib/store/write/note-job'
import { draftedLibrary } from './inner/drafted-library'
import { JobRefusal, toldFailure } from './inner/failure'

/** How the work is done: in a process apart, so that nobody waits for it. */
export type TryingOut = typeof tryOutApart

/**
 * Replays the past of an organisation where somebody asked for it. What came out before stays until the new is whole;
 * what a kill cut off is begun again, and what somebody stopped is given up.
 *
 * @param signal ends the work; it is begun again the next time
 */
export async function replayWhenAsked(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
  signal?: AbortSignal,
  tryingOut: TryingOut = tryOutApart,
): Promise<void> {
  const asked = await withOrganisation(database, organisation, readAskedReplays)
  for (const job of asked) {
    if (signal?.aborted) return
    const work = new ReplayJob(database, organisation, job, { now, tryingOut })
    await work.run(signal)
  }
}

type Surroundings = { now: () => Date; tryingOut: TryingOut }

/** Everything that is known before it begins, and under what the result is kept. */
type Ground = { asked: TryOut; kept: Omit<NewReplay, 'content' | 'comparison'> }

/** Nothing came out. */
class Failure {
  constructor(readonly error: unknown) {}
}

class ReplayJob {
  private readonly stopped = new AbortController()

  constructor(
    private readonly database: Database,
    private readonly organisation: OrganisationId,
    private readonly job: AskedReplay,
    private readonly surroundings: Surroundings,
  ) {}

  async run(outside?: AbortSignal): Promise<void> {
    const end = () => this.stopped.abort()
    outside?.addEventListener('abort', end)
    if (outside?.aborted) end()
    const replayed = await this.replay().catch((error: unknown) => new Failure(error))
    outside?.removeEventListener('abort', end)
    if (this.stopped.signal.aborted) return
    await this.end(replayed).catch((error: unknown) => this.end(new Failure(error)))
  }

  /**
   * Ends it and keeps what came out, both or neither: a kill in between would begin it again and keep it twice. What
   * somebody stopped when all was done but this is not kept.
   */
  private async end(replayed: NewReplay | Failure): Promise<void> {
    const [failure, kept] =
      replayed instanceof Failure ? [toldFailure(replayed.error), null] : [null, replayed]
    const ended = { failure, now: this.surroundings.now() }
    await this.write(async (scope) => {
      if (!(await readIsWanted(scope, this.job))) return
      if (kept) await addReplay(scope, kept)
      await endJob(scope, this.job.id, ended)
    })
  }

  private async replay(): Promise<NewReplay> {
    const { now, tryingOut } = this.surroundings
    // It only reads, but of so much that it may take as long as a write.
    const { asked, kept } = await this.write((scope) => this.readGround(scope, now()))
    let noting = Promise.resolve()
    const onProgress = (progress: ReplayProgress) => {
      // What cannot be noted now is noted with the next.
      noting = noting.then(() => this.note(progress)).catch(() => {})
    }
    const tried = await tryingOut(asked, onProgress, this.stopped.signal)
    await noting
    const content = JSON.stringify(tried.replay)
    const comparison = tried.comparison && JSON.stringify(tried.comparison)
    return { ...kept, content, comparison }
  }

  /** Notes how far it is, and ends the work where somebody has stopped it. */
  private async note(progress: ReplayProgress): Promise<void> {
    const { id } = this.job
    const isWanted = await this.write(async (scope) => {
      if (!(await readIsWanted(scope, this.job))) return false
      await noteProgress(scope, id, { ...progress, message: 'Looking back' })
      return true
    })
    if (!isWanted) this.stopped.abort()
  }

  private async readGround(scope: OrganisationScope, now: Date): Promise<Ground> {
    const { draft, by } = this.job
    const ground = await readScoringGround(scope, now)
    if (!ground) throw new JobRefusal('There is no library to replay: state a family first')
    const { asOf, library: inForce, settings } = ground
    const library = valid(inForce.content, 'in force')
    const drafted = draft === null ? null : await this.readDrafted(scope, draft, inForce.content)
    const records = await readRecordsToRewind(scope)
    const { adviceHorizonDays: days } = settings
    const plan = defaultPlan(records, asOf, days)
    if (!plan)
      throw new JobRefusal(
        `The records are not long enough: ${leastDaysOfRecords(days)} days of them are needed before anything can be looked back on`,
      )
    return {
      asked: { work: { records, library, plan, learning: true }, draft: drafted },
      kept: { draft, libraryVersion: inForce.version, asOf, learned: true, now, by },
    }
  }

  private async readDrafted(scope: OrganisationScope, id: string, inForce: string): Promise<Library> {
    const draft = await readLibraryDraftUnheld(scope, id)
    if (!draft) throw new JobRefusal('The draft is not there any more')
    return valid(draftedLibrary(inForce, draft.family), 'with the draft in it')
  }

  private write<T>(work: (scope: OrganisationScope) => Promise<T>): Promise<T> {
    return withOrganisation(this.database, this.organisation, work, 'write')
  }
}

function valid(content: string, which: string): Library {
  const parsed = parseLibrary(content)
  if (!parsed.ok) throw new JobRefusal(`The library ${which} is not valid: ${parsed.errors[0]?.message}`)
  return parsed.library
}

import type { IntakeJob } from '../job'
import type { IntakeState } from '../read/intake'
import type { OrganisationScope } from '../with-organisation'
import { askJob } from './ask-job'
import type { IntakeAct } from './take-back-intake'

/** For how long files can be taken back. */
export const DAYS_TO_TAKE_BACK = 30

const MS_PER_DAY = 86_400_000

/** In which states each act can be asked for. */
const FROM: Record<IntakeJob, IntakeState[]> = {
  'intake-read': ['staged'],
  'intake-enter': ['staged', 'failed'],
  'intake-take-back': ['done'],
  'intake-bring-back': ['taken-back'],
}

/**
 * Asks for something to be done with files that were brought in. Two that ask at once, or one who asks twice, get it
 * done once.
 *
 * @returns whether it was asked for now; false where it is under way, or cannot be done in this state or any more
 */
export async function askIntake(
  scope: OrganisationScope,
  kind: IntakeJob,
  { id, by, now }: IntakeAct,
): Promise<boolean> {
  const [intake] = await scope.tx.$queryRaw<{ state: IntakeState; read: boolean; doneAt: Date | null }[]>`
    select state, summary is not null as read, done_at as "doneAt" from intakes where id = ${id}::uuid for update`
  if (!intake || !FROM[kind].includes(intake.state)) return false
  if (kind === 'intake-enter' && !intake.read) return false
  if (intake.doneAt !== null && !canBeTakenBack(intake.doneAt, now)) return false
  return askJob(scope, { id, kind, by, now })
}

/**
 * Stops files that are being read or are going in: the file that is under way leaves nothing, those before it stay.
 *
 * @param name who stops it
 */
export async function stopIntake(
  { tx }: OrganisationScope,
  { id, name, now }: { id: string; name: string; now: Date },
): Promise<void> {
  const stopped = await tx.$queryRaw<{ kind: string }[]>`
    update jobs set state = 'stopped', message = ${`${name} stopped it`}, finished_at = ${now}
    where id = ${id}::uuid and state = 'running' and kind in ('intake-read', 'intake-enter') returning kind`
  if (stopped.some(({ kind }) => kind === 'intake-enter'))
    await tx.$executeRaw`update intakes set state = 'failed' where id = ${id}::uuid and state = 'staged'`
}

/** Whether what went in then can still be taken back, or brought back. */
export const canBeTakenBack = (doneAt: Date, now: Date): boolean =>
  now.getTime() - doneAt.getTime() <= DAYS_TO_TAKE_BACK * MS_PER_DAY

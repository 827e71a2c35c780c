import type { OrganisationScope } from '../with-organisation'

/** How far long work is, in words and numbers. */
export type JobProgress = { done: number; total: number; message: string }

/**
 * Notes how far it is.
 *
 * @returns false where somebody has stopped it
 */
export async function noteProgress(
  { tx }: OrganisationScope,
  id: string,
  { done, total, message }: JobProgress,
): Promise<boolean> {
  const noted = await tx.$executeRaw`
    update jobs set done = ${done}, total = ${total}, message = ${message}
    where id = ${id}::uuid and state = 'running'`
  return noted === 1
}

/** Notes that it has ended, and why where it failed; what somebody stopped before stays stopped. */
export async function endJob(
  { tx }: OrganisationScope,
  id: string,
  { failure, now }: { failure: string | null; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    update jobs set state = ${failure === null ? 'done' : 'failed'}, message = ${failure}, finished_at = ${now}
    where id = ${id}::uuid and state = 'running'`
}

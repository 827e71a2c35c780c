import { ProcessApart } from '@/lib/replay/process-apart'
import type { IntakeDone, IntakeTask } from './intake-process'

const BROKE_OFF = 'The process that takes files in ended'
const NOT_ENOUGH = `${BROKE_OFF}: it may be that the files need more memory than it is given. Bring in fewer at a time`

/** What reading rows needs at any moment, besides the text of the files themselves. */
const MEGABYTES = 256
const BYTES_PER_MEGABYTE = 1_000_000
/** Text that holds more than Western letters takes two bytes a letter. */
const PER_MEGABYTE_OF_FILES = 2
/** Rows are read and forgotten again: with a quarter of this, half of the time went into clearing up. */
const NURSERY_MEGABYTES = 32

/**
 * Works on large files in a process of its own, so that it does not take the memory in which pages are made.
 *
 * @returns why it came to nothing; null where it did not
 */
export async function intakeApart(
  task: IntakeTask,
  { signal }: { signal: AbortSignal },
): Promise<string | null> {
  if (signal.aborted) return BROKE_OFF
  const most = MEGABYTES + Math.ceil((PER_MEGABYTE_OF_FILES * task.bytes) / BYTES_PER_MEGABYTE)
  const child = new ProcessApart<IntakeTask, IntakeDone>(
    new URL('./intake-process.ts', import.meta.url),
    BROKE_OFF,
    { most, nursery: NURSERY_MEGABYTES },
  )
  const end = () => child.end()
  signal.addEventListener('abort', end)
  try {
    return (await child.ask(task, (done) => done)).failure
  } catch {
    return NOT_ENOUGH
  } finally {
    signal.removeEventListener('abort', end)
    child.end()
  }
}

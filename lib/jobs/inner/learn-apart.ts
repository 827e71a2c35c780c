import { ProcessApart } from '@/lib/replay/process-apart'
import type { FitProgress } from '@/lib/scoring/fit-fleet'
import type { Answered, Lesson } from './learning-process'

const BROKE_OFF = 'The process that learns ended without a word'

/**
 * Learns in a process of its own, so that files and scores go on meanwhile.
 *
 * @param signal ends it before it is done
 * @returns the fit as a file
 */
export async function learnApart(
  lesson: Lesson,
  onProgress: (progress: FitProgress) => void,
  signal?: AbortSignal,
): Promise<string> {
  signal?.throwIfAborted()
  const child = new ProcessApart<Lesson, Answered>(
    new URL('./learning-process.ts', import.meta.url),
    BROKE_OFF,
  )
  const end = () => child.end()
  signal?.addEventListener('abort', end)
  try {
    return await child.ask(lesson, (answered) => {
      if ('learned' in answered) return answered.learned
      onProgress(answered)
      return null
    })
  } finally {
    signal?.removeEventListener('abort', end)
    child.end()
  }
}

import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import { ProcessApart } from '@/lib/replay/process-apart'
import type { Reckoning } from './reckoning-process'

const BROKE_OFF = 'The process that reckons amounts ended'

/**
 * Keeps amounts up to date in a process of its own, which nobody waits for: it yields to whatever is waited for, and
 * holds up neither files nor scores.
 *
 * @param url the product's address
 * @param signal ends it
 * @returns when it has ended, whyever
 */
export async function reckonApart(
  url: string,
  { now }: { now: () => Date },
  signal: AbortSignal,
): Promise<void> {
  if (signal.aborted) return
  const child = new ProcessApart<Reckoning, never>(
    new URL('./reckoning-process.ts', import.meta.url),
    BROKE_OFF,
  )
  const end = () => child.end()
  signal.addEventListener('abort', end)
  try {
    await child.ask({ url, aheadMs: now().getTime() - Date.now() }, () => null)
  } catch (ended) {
    if (!signal.aborted) logFailedWork('reckon', ended)
  } finally {
    signal.removeEventListener('abort', end)
  }
}

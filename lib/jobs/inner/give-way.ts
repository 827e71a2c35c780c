import { setImmediate as nextTurn, setTimeout as sleep } from 'node:timers/promises'
import { requestsUnderWay } from '../requests-under-way.mjs'

/** Where many come there is always one: then what gives way goes on after so long, at a fifth of its pace or less. */
const MOST_MS = 100
const STEP_MS = 5

/**
 * Between two steps of work in the web server's process for which nobody waits: whoever waits for a page goes first, since
 * a page asks the store a dozen times, and would wait for a step each time.
 */
export async function giveWay(): Promise<void> {
  await nextTurn()
  const until = performance.now() + MOST_MS
  while (requestsUnderWay() > 0 && performance.now() < until) await sleep(STEP_MS)
}

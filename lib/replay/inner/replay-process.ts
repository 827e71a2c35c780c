/** A process that looks back for another one, which does not wait for it. */
import type { Said } from '../judge'
import type { Warnings } from '../learning'
import { alongRun, type Run } from '../look-back'
import type { ReplayWork } from '../replay'
import { type Tried, type TryOut, tryOut } from '../try-out'

/** What it is told: what all runs are about, then one run after the other; or the whole of it at once. */
export type Told = { work: ReplayWork } | { run: Run } | { tryOut: TryOut }

/** What it answers: what was said on a day, then that the run has ended; or how far it is, then what came out. */
export type Answered =
  | { said: Said[] }
  | { ended: true; warnings: Warnings | null }
  | { done: number; total: number }
  | { tried: Tried }

let work: ReplayWork | null = null

/** Waits until it is on its way: what comes next leaves no time to send. */
const answer = (answered: Answered): Promise<void> =>
  new Promise((resolve, reject) => {
    if (!process.send) reject(new Error('Nobody listens'))
    process.send?.(answered, undefined, undefined, (error: Error | null) =>
      error ? reject(error) : resolve(),
    )
  })

async function goAlong(run: Run): Promise<void> {
  if (!work) throw new Error('It was not told the work')
  const along = alongRun(work, run)
  let step = along.next()
  for (; !step.done; step = along.next()) await answer({ said: step.value })
  await answer({ ended: true, warnings: step.value })
}

async function goThroughAll(asked: TryOut): Promise<void> {
  const along = tryOut(asked)
  let step = along.next()
  for (; !step.done; step = along.next()) await answer(step.value)
  await answer({ tried: step.value })
}

process.on('message', async (told: Told) => {
  if ('work' in told) work = told.work
  else if ('run' in told) await goAlong(told.run)
  else await goThroughAll(told.tryOut)
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())

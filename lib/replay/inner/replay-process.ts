/** A process that looks back for another one, which does not wait for it. */
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { Day } from '@/lib/units/dates'
import type { Said } from '../judge'
import { type Warnings, warningsOf } from '../learning'
import { alongRun } from '../look-back'
import type { ReplayWork } from '../replay'
import { type Tried, type TryOut, tryOut } from '../try-out'

/**
 * What it is told: what all runs are about, then the days of one run after the other, or what to go on from to learn
 * how long warnings last; or the whole of it at once.
 */
export type Told = { work: ReplayWork } | { run: Day[] } | { earlier: FleetFit } | { tryOut: TryOut }

/** What it answers: what was said on a day, then what the run taught; or how far it is, then what came out. */
export type Answered =
  | { said: Said[] }
  | { learned: FleetFit | null }
  | { warnings: Warnings }
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

function workTold(): ReplayWork {
  if (!work) throw new Error('It was not told the work')
  return work
}

async function goAlong(run: Day[]): Promise<void> {
  const along = alongRun(workTold(), run)
  let step = along.next()
  for (; !step.done; step = along.next()) await answer({ said: step.value })
  await answer({ learned: step.value })
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
  else if ('earlier' in told) await answer({ warnings: warningsOf(workTold(), told.earlier) })
  else await goThroughAll(told.tryOut)
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())

/** A process that learns for another one, which does not wait for it. */
import { fitText } from '@/lib/intake/fit-file'
import type { Library } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { type FitProgress, fitInSteps } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'

/** What it is to learn from, under which statement, as of which day. */
export type Lesson = { records: Records; library: Library; asOf: Day }

/** How far it is, then the fit as a file. */
export type Answered = FitProgress | { learned: string }

process.on('message', async ({ records, library, asOf }: Lesson) => {
  // Waits until each is on its way: what comes next leaves no time to send.
  const answer = (answered: Answered) =>
    new Promise((sent) => process.send?.(answered, undefined, undefined, sent))
  const steps = fitInSteps({ fleet: fleetVehicles(records, asOf), library, asOf })
  let step = steps.next()
  for (; !step.done; step = steps.next()) await answer(step.value)
  await answer({ learned: fitText(step.value, library) })
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())

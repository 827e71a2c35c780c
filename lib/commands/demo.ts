import { readFiles } from '@/lib/intake/read-files'
import { parseLibrary } from '@/lib/records/library'
import type { Database } from '@/lib/store/database'
import { dayIn } from '@/lib/units/dates'
import { type Demo, makeDemos } from '@/seed/demo'
import { makeFilled } from './inner/make-filled'

/**
 * Brings invented organisations of `seed/` in, on the way that every data folder takes; each whole or not at all. What
 * their workshops found is learned from at once, so that there is something to see of it.
 *
 * @param names which of them
 * @param now the present instant: the demo's records end the day before
 */
export async function addDemos(database: Database, names: readonly string[], now: Date): Promise<void> {
  const demos = makeDemos({ today: dayIn('UTC', now), names })
  // An instant apart, so that they keep their order: the oldest organisation comes first.
  for (const [i, demo] of demos.entries()) await addDemo(database, demo, new Date(now.getTime() + i))
}

/** Brings one in, unless another start was first. */
export async function addDemo(database: Database, demo: Demo, now: Date): Promise<void> {
  const parsed = parseLibrary(demo.libraryJson)
  if (!parsed.ok) throw new Error(`The demo's library is not valid: ${parsed.errors[0]?.message}`)
  const { records, parts, rejected } = readFiles(
    demo.files,
    parsed.library,
    dayIn(demo.organisation.timeZone, now),
  )
  if (rejected[0])
    throw new Error(`The demo has a row that is rejected: ${rejected[0].file}:${rejected[0].line}`)
  const { organisation, person } = demo
  await makeFilled(
    database,
    { name: organisation.name, settings: records.settings, owner: person, now },
    { library: demo.libraryJson, records, parts, learn: true },
  )
}

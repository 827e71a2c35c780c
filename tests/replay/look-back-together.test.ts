/** A process that breaks off is an answer to whoever asked, and nothing else. */
import { expect, it } from 'vitest'
import { lookBack } from '@/lib/replay/look-back'
import { lookBackTogether, tryOutApart } from '@/lib/replay/look-back-together'
import type { TryOut } from '@/lib/replay/try-out'
import { simulatedLibrary } from '../simulation/libraries'
import { recordsOf } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'

const asked: TryOut = {
  work: {
    records: recordsOf({}),
    library: simulatedLibrary('knot', 'experience'),
    plan: { from: 19_000, to: 19_000, every: 30, days: 90 },
    learning: false,
  },
  draft: null,
}
const nothing = () => {}

const lastDay = 19_600
const { records } = simulateWorld({
  seed: 9,
  library: asked.work.library,
  vehicles: 5,
  firstDay: 17_900,
  spreadDays: 300,
  lastDay,
  snapshots: [],
})

it('many processes say what one says', async () => {
  const plan = { from: lastDay - 270, to: lastDay - 90, every: 30, days: 90 }
  const work = { ...asked.work, records, plan, learning: true }
  const days: number[] = []
  const cases = await lookBackTogether(work, ({ done }) => days.push(done))
  expect(days).toEqual([1, 2, 3, 4, 5, 6, 7])
  expect(cases.flat().length).toBeGreaterThan(200)
  expect(cases).toEqual(lookBack(work))
}, 240_000)

it('a process that does its work answers', async () => {
  const { replay } = await tryOutApart(asked, nothing)
  expect(replay.cutOffs).toHaveLength(1)
})

it('one that cannot begin breaks off', async () => {
  const { execPath } = process
  process.execPath = '/no/such/program'
  try {
    await expect(tryOutApart(asked, nothing)).rejects.toThrow(/^Looking back broke off: ask again/)
  } finally {
    process.execPath = execPath
  }
  // What else it says of itself would be heard by now.
  await new Promise((resolve) => setTimeout(resolve, 100))
})

it('one that is ended breaks off; what was ended before does not begin', async () => {
  const ending = new AbortController()
  const tried = tryOutApart(asked, nothing, ending.signal)
  ending.abort()
  await expect(tried).rejects.toThrow(/^Looking back broke off: ask again/)
  await expect(tryOutApart(asked, nothing, ending.signal)).rejects.toThrow(/aborted/)
})

/** A process that breaks off is an answer to whoever asked, and nothing else. */
import { expect, it } from 'vitest'
import { tryOutApart } from '@/lib/replay/look-back-together'
import type { TryOut } from '@/lib/replay/try-out'
import { simulatedLibrary } from '../simulation/libraries'
import { recordsOf } from '../simulation/record-rows'

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

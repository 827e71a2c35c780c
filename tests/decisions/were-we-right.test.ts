import { expect, test } from 'vitest'
import type { ProposalAct } from '@/lib/decisions/proposals'
import { howTheyTurnedOut, type JudgedProposal } from '@/lib/decisions/were-we-right'

const TODAY = 20_400
const one = (
  act: ProposalAct | null,
  found: 'failed' | 'sound' | null,
  more: Partial<JudgedProposal & { person: string }> = {},
) => ({
  weakPoint: 'pump',
  positions: [1],
  madeOn: TODAY - 200,
  horizonDays: 90,
  chances: [{ pFail: 0.2 }],
  acts: act === null ? [] : [{ ...act, day: TODAY - 199 }],
  works:
    found === null
      ? []
      : [{ weakPoint: 'pump', positions: [1], doneOn: TODAY - 150, found, because: 'failure' as const }],
  person: 'Ann',
  ...more,
})
const yes: ProposalAct = { act: 'accepted' }
const no: ProposalAct = { act: 'declined', reason: 'too dear', askAgainOn: null }

test('counts by group what turned out how, and holds expected against failed', () => {
  const proposals = [
    one(yes, 'failed'),
    one(yes, 'sound'),
    one(no, 'failed'),
    one(no, null, { chances: [{ pFail: 0.5 }, { pFail: 0.5 }] }),
    one(no, null, { madeOn: TODAY - 30 }), // its time has not come
    one(null, null), // nobody has decided
    one(no, 'failed', { person: 'Ben' }),
  ]
  const by = howTheyTurnedOut(proposals, ({ person }) => person, TODAY)
  expect([...by.keys()]).toEqual(['Ann', 'Ben'])
  const ann = by.get('Ann')!
  expect(ann.verdicts).toMatchObject({
    'yes-and-due': 1,
    'yes-and-good': 1,
    'no-and-failed': 1,
    'no-and-runs': 2,
  })
  expect(ann.refused.count).toBe(2)
  expect(ann.refused.expected).toBeCloseTo(0.2 + 0.75, 12)
  expect(ann.refused.failed).toBe(1)
  expect(by.get('Ben')!.verdicts['no-and-failed']).toBe(1)
})

test('a failure after the horizon is none of it, and who is in no group counts nowhere', () => {
  const late = one(no, null, {
    works: [{ weakPoint: 'pump', positions: [], doneOn: TODAY - 100, found: 'failed', because: null }],
  })
  expect(howTheyTurnedOut([late], () => 'all', TODAY).get('all')!.refused).toMatchObject({
    count: 1,
    failed: 0,
  })
  expect(howTheyTurnedOut([late], () => null, TODAY).size).toBe(0)
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  actsAfter,
  isOpen,
  isSilenced,
  type ProposalAct,
  standingOf,
  verdictOn,
  workOn,
} from '@/lib/decisions/proposals'
import { runs } from '../runs'

const MADE = 20_000
const job = { weakPoint: 'injector', positions: [2, 3], madeOn: MADE }
const work = (doneOn: number, found: 'failed' | 'developing' | 'sound' | null, more = {}) => ({
  weakPoint: 'injector',
  positions: [3],
  doneOn,
  found,
  because: null as 'failure' | null,
  ...more,
})
const told: ProposalAct = { act: 'told', whom: 'the driver', how: 'call' }
const yes: ProposalAct = { act: 'accepted' }
const no: ProposalAct = { act: 'declined', reason: 'too dear', askAgainOn: MADE + 60 }
const later: ProposalAct = { act: 'put-off', reason: 'harvest', askAgainOn: MADE + 30 }
const booked: ProposalAct = { act: 'booked', visitOn: MADE + 7 }
const done: ProposalAct = { act: 'done', doneOn: MADE + 8 }

test('the last act says how it stands, and work on record says more than any', () => {
  const state = (...acts: ProposalAct[]) => standingOf(job, acts, []).state
  expect([state(), state(told), state(told, yes), state(told, no), state(later)]).toEqual([
    'made',
    'told',
    'accepted',
    'declined',
    'put-off',
  ])
  expect(standingOf(job, [yes, booked], [])).toMatchObject({ state: 'booked', visitOn: MADE + 7 })
  expect(standingOf(job, [yes, booked, done], [])).toMatchObject({
    state: 'done',
    doneOn: MADE + 8,
    found: null,
  })
  expect(standingOf(job, [no], [work(MADE + 9, 'failed')])).toMatchObject({ state: 'found', found: 'failed' })
  expect(standingOf(job, [yes], [work(MADE + 9, null)])).toMatchObject({ state: 'done', doneOn: MADE + 9 })
})

test('work of another part, place or time is not about it', () => {
  const works = [
    work(MADE - 1, 'failed'),
    work(MADE + 1, 'failed', { positions: [1] }),
    work(MADE + 1, 'failed', { weakPoint: 'coil' }),
  ]
  expect(workOn(job, works)).toEqual([])
  expect(standingOf(job, [], works).state).toBe('made')
  // Where nobody noted which of several, it may have been this one.
  expect(workOn(job, [work(MADE, 'sound', { positions: [] })])).toHaveLength(1)
})

test('a no is silent until its date, and returns then', () => {
  const standing = standingOf(job, [told, no], [])
  expect([isSilenced(standing, MADE + 59), isSilenced(standing, MADE + 60)]).toEqual([true, false])
  expect(isOpen(standing)).toBe(true)
  const forGood = standingOf(job, [{ act: 'declined', reason: 'sells it', askAgainOn: null }], [])
  expect([isSilenced(forGood, MADE + 9999), isOpen(forGood)]).toEqual([true, false])
  expect(isSilenced(standingOf(job, [told, no, yes], []), MADE)).toBe(false)
})

test.each([
  ['yes-and-due', [told, yes], [work(MADE + 5, 'developing')]],
  ['yes-and-good', [told, yes], [work(MADE + 5, 'sound')]],
  ['not-noted', [told, yes], [work(MADE + 5, null)]],
  ['no-and-failed', [told, no], [work(MADE + 5, 'failed', { because: 'failure' })]],
  ['no-and-going', [told, no], [work(MADE + 5, 'developing')]],
  ['no-and-good', [told, later], [work(MADE + 5, 'sound')]],
  ['no-and-runs', [told, no], []],
  ['undecided-and-failed', [told], [work(MADE + 5, 'failed', { because: 'failure' })]],
  [null, [told, yes], []],
  [null, [{ act: 'dropped' }], [work(MADE + 5, 'failed')]],
] as const)('whether we were right: %s', (verdict, acts, works) => {
  const dated = acts.map((act: ProposalAct) => ({ ...act, day: MADE + 1 }))
  expect(verdictOn(job, dated, works)).toBe(verdict)
})

test('a yes that was said after it had failed is no yes to the proposal', () => {
  const acts = [
    { ...no, day: MADE + 1 },
    { ...yes, day: MADE + 20 },
  ]
  expect(verdictOn(job, acts, [work(MADE + 5, 'failed', { because: 'failure' })])).toBe('no-and-failed')
})

test('whatever is done in whatever order leads to a state from which only its acts lead on', () => {
  const act = fc.constantFrom<ProposalAct>(told, yes, no, later, booked, done, { act: 'dropped' })
  fc.assert(
    fc.property(fc.array(act, { maxLength: 12 }), (asked) => {
      const acts: ProposalAct[] = []
      for (const each of asked) {
        const before = standingOf(job, acts, [])
        const may = actsAfter(before.state).includes(each.act)
        if (may) acts.push(each)
        const after = standingOf(job, acts, [])
        expect(after.state).toBe(may ? each.act : before.state)
      }
      const end = standingOf(job, acts, [])
      // What has ended waits for nothing, and what was dropped is judged by nobody.
      if (end.state === 'done' || end.state === 'dropped') expect(isOpen(end)).toBe(false)
      if (end.state === 'dropped')
        expect(
          verdictOn(
            job,
            acts.map((each) => ({ ...each, day: MADE })),
            [],
          ),
        ).toBeNull()
    }),
    { numRuns: runs(200) },
  )
})

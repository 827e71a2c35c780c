/** Whom to telephone, to write to, to ask first, or to leave alone: each rule of a letter. */
import { describe, expect, it } from 'vitest'
import type { Standing } from '@/lib/decisions/proposals'
import {
  type Call,
  type CallCandidate,
  type CallFacts,
  surelyWorth,
  worthACall,
} from '@/lib/decisions/worth-a-call'

const TODAY = 20_000
const job = (weakPoint: string, more: Partial<CallCandidate> = {}): CallCandidate => ({
  ...{ weakPoint, position: 1, gain: 100, gainBand: { low: 40, high: 200 }, cost: 300 },
  ...{ due: true, sure: true, stop: false, hours: 2, sharedHours: 0, access: null, part: null },
  ...{ lookedOn: TODAY - 30, intervalOut: false },
  ...more,
})
const call = (candidates: CallCandidate[], more: Partial<CallFacts> = {}): Call =>
  worthACall({
    ...{ assessed: true, telephone: null, candidates, labourRate: 80, proposals: [], customer: 'Ann' },
    ...{ optedOutOn: null, writtenOn: null, lastRecordOn: TODAY - 100, today: TODAY },
    ...{ letterEveryDays: 90, quietMonths: 15 },
    ...more,
  })
const membersOf = (told: Call) =>
  told.kind === 'telephone' ? [] : (told.bundle?.members.map(({ weakPoint }) => weakPoint) ?? [])
const why = (told: Call) => (told.kind === 'silent' ? told.silence.why : told.kind)
const standing = (more: Partial<Standing>): Standing => ({
  ...{ state: 'made', askAgainOn: null, visitOn: null, doneOn: null, found: null },
  ...more,
})
const proposed = (more: Partial<Standing>, toldOn: number | null = null) => [
  { weakPoint: 'pump', positions: [1], standing: standing(more), toldOn },
]

describe('a letter', () => {
  it('is written where a job pays even at the low end of its band, and tells the mean and both ends', () => {
    const told = call([job('pump')])
    expect(told.kind).toBe('write')
    expect(told.kind === 'write' && told.bundle).toMatchObject({
      saving: 100,
      savingBand: { low: 40, high: 200 },
    })
  })

  it('is not written where the low end says that waiting is cheaper, however much the mean says', () => {
    expect(why(call([job('pump', { gain: 5000, gainBand: { low: -1, high: 9000 } })]))).toBe('not-at-low-end')
    expect(why(call([job('pump', { gain: 5000, gainBand: { low: 0, high: 9000 } })]))).toBe('not-at-low-end')
  })

  it('is not written where some later moment may be better', () => {
    expect(why(call([job('pump', { sure: false })]))).toBe('not-at-low-end')
  })

  it('never asks for money on a hunch: somebody has looked at that part, or its interval has run out', () => {
    expect(why(call([job('pump', { lookedOn: null })]))).toBe('nobody-looked')
    expect(call([job('pump', { lookedOn: null, intervalOut: true })]).kind).toBe('write')
    const two = call([job('pump'), job('belt', { lookedOn: null })])
    expect(membersOf(two)).toEqual(['pump'])
  })

  it('never carries what must not be driven with, nor what has failed: that is a telephone call, whoever wants no letters', () => {
    for (const because of ['stop', 'failed'] as const)
      expect(call([job('pump')], { telephone: because, optedOutOn: TODAY - 5 })).toEqual({
        kind: 'telephone',
        because,
      })
  })

  it('leaves out what the customer said no to until its day, and for good where they said so', () => {
    const until = (askAgainOn: number | null) =>
      call([job('pump')], { proposals: proposed({ state: 'declined', askAgainOn }) })
    expect(until(TODAY + 1)).toMatchObject({ silence: { why: 'said-no', until: TODAY + 1 } })
    expect(until(null)).toMatchObject({ silence: { why: 'said-no', until: null } })
    expect(until(TODAY).kind).toBe('write')
    const other = call([job('pump'), job('belt')], { proposals: proposed({ state: 'declined' }) })
    expect(membersOf(other)).toEqual(['belt'])
  })

  it('asks nothing of whoever said yes, has a day, or was told lately and has not answered', () => {
    for (const state of ['accepted', 'booked', 'done'] as const)
      expect(why(call([job('pump')], { proposals: proposed({ state }) }))).toBe('in-hand')
    expect(why(call([job('pump')], { proposals: proposed({ state: 'told' }, TODAY - 89) }))).toBe('in-hand')
    expect(call([job('pump')], { proposals: proposed({ state: 'told' }, TODAY - 90) }).kind).toBe('write')
    expect(call([job('pump')], { proposals: proposed({ state: 'made' }) }).kind).toBe('write')
  })

  it('goes to nobody twice within the days between two, and to nobody who wants none', () => {
    expect(call([job('pump')], { writtenOn: TODAY - 89 })).toMatchObject({
      silence: { why: 'written-lately', on: TODAY - 89, until: TODAY + 1 },
    })
    expect(call([job('pump')], { writtenOn: TODAY - 90 }).kind).toBe('write')
    expect(why(call([job('pump')], { optedOutOn: TODAY - 900 }))).toBe('opted-out')
  })

  it('waits where nothing was heard for months: then one asks first', () => {
    expect(call([job('pump')], { lastRecordOn: TODAY - 456 }).kind).toBe('write')
    expect(call([job('pump')], { lastRecordOn: TODAY - 457 })).toMatchObject({
      kind: 'ask-first',
      quietSince: TODAY - 457,
    })
    expect(call([job('pump')], { lastRecordOn: null }).kind).toBe('ask-first')
  })

  it('has nobody to go to where the owner has changed', () => {
    expect(why(call([job('pump')], { customer: null }))).toBe('no-customer')
  })

  it('is none where nothing is due, or the engine is not known', () => {
    expect(why(call([job('pump', { due: false, sure: false })]))).toBe('nothing-due')
    expect(why(call([], { assessed: false }))).toBe('not-assessed')
  })
})

describe('the jobs of a letter', () => {
  const along = (low: number) =>
    job('gasket', {
      ...{ due: false, sure: false, gain: low + 5, gainBand: { low, high: low + 10 } },
      ...SHARED,
    })
  const SHARED = { access: 'front', sharedHours: 1 }

  it('are those that save most at the low end: what goes along must pay for itself by the hours it shares', () => {
    const named = (low: number) => membersOf(call([job('pump', SHARED), along(low)]))
    expect(named(-79)).toEqual(['pump', 'gasket'])
    expect(named(-81)).toEqual(['pump'])
  })

  it('are not brought in by a visit that is saved', () => {
    const apart = { ...along(-1), access: null, sharedHours: 0 }
    expect(membersOf(call([job('pump'), apart]))).toEqual(['pump'])
  })

  it('are the best of all sets at the low end, and what they save is told of their own bands', () => {
    const all = [
      job('pump', SHARED),
      along(-60),
      along(-90),
      job('belt', { gain: 9, gainBand: { low: 3, high: 9 } }),
    ]
    const lows = all.flatMap((_, i) => i)
    let best = Number.NEGATIVE_INFINITY
    for (let set = 1; set < 2 ** all.length; set++) {
      const members = lows.filter((i) => set & (1 << i)).map((i) => all[i]!)
      if (!members.some(({ sure }) => sure)) continue
      const opened = members.filter(({ access }) => access !== null).length
      best = Math.max(
        best,
        members.reduce((sum, { gainBand }) => sum + gainBand.low, 0) + Math.max(opened - 1, 0) * 80,
      )
    }
    const chosen = surelyWorth(all, 80)!
    expect(chosen.savingBand.low).toBeCloseTo(best, 9)
    const sum = chosen.members.reduce((total, { gain }) => total + gain, 0)
    expect(chosen.saving).toBeCloseTo(sum + chosen.hoursSaved * 80, 9)
  })
})

/** What happened to one component after a cut-off, case by case. */
import { describe, expect, it } from 'vitest'
import type { Records, RepairRow, VehicleRow } from '@/lib/records/rows'
import { Hindsight } from '@/lib/replay/outcomes'
import { engine, point } from '../scoring/one-vehicle'
import { changeRow, readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'

const FIRST = 18_000
const CUT_OFF = 19_000
const HORIZON = { cutOff: CUT_OFF, days: 90 }
const KM_PER_DAY = 50
const DELTA = 9_000 / Math.LN2
const [pump, fuse] = engine([
  point('pump', 80_000, 140_000, 9_000, { positions: 2, duty: { short: 1.5 } }),
  point('fuse', 80_000, 140_000, 0),
]).families[0]!.weakPoints

/** A vehicle at 50 km a day, read every month until `lastDay`. */
function outcomeOf(
  repairs: (Partial<RepairRow> & { doneOn: number })[],
  {
    vehicle = {},
    lastDay = CUT_OFF + 200,
    more = {},
    weakPoint = pump!,
  }: {
    vehicle?: Partial<VehicleRow>
    lastDay?: number
    more?: Partial<Records>
    weakPoint?: typeof pump
  } = {},
) {
  const row = { unit: 'T1', family: 'plover-22', builtOn: FIRST, inServiceOn: FIRST }
  const days = Array.from({ length: Math.floor((lastDay - FIRST) / 30) + 1 }, (_, i) => FIRST + 30 * i)
  const records = recordsOf({
    vehicles: [vehicleRow({ ...row, ...vehicle }), vehicleRow({ ...row, unit: 'T2' })],
    readings: [
      ...[...days, lastDay].map((readOn) =>
        readingRow({ unit: 'T1', readOn, odometerKm: KM_PER_DAY * (readOn - FIRST) }),
      ),
      // Another vehicle is on record until much later.
      readingRow({ unit: 'T2', readOn: CUT_OFF + 1000, odometerKm: 90_000 }),
    ],
    repairs: repairs.map((each) =>
      repairRow({ unit: 'T1', weakPoint: weakPoint!.key, positions: [1], action: 'renew', ...each }),
    ),
    ...more,
  })
  return new Hindsight(records).outcome('T1', weakPoint!, 1, HORIZON)
}

const on = (days: number, more: Partial<RepairRow> = {}) => ({ doneOn: CUT_OFF + days, ...more })
const SEEN = { lastDay: CUT_OFF + 950 }

describe('a failure on record', () => {
  it.each([
    ['as found', { found: 'failed' }],
    ['as the reason', { because: 'failure' }],
    ['by looking', { found: 'failed', action: 'inspect' }],
    ['by a quick fix', { found: 'failed', action: 'temporary' }],
  ] as const)('%s counts, on its day', (_, more) => {
    expect(outcomeOf([on(30, more)], SEEN)).toEqual({
      fate: 'failed',
      on: CUT_OFF + 30,
      failed: 1,
      share: 1,
    })
  })

  it('counts on the last day of the horizon, and not on that of the cut-off or after', () => {
    expect(outcomeOf([on(90, { found: 'failed' })], SEEN)?.fate).toBe('failed')
    expect(outcomeOf([on(91, { found: 'failed' })], SEEN)?.fate).toBe('spared')
    expect(outcomeOf([on(0, { found: 'failed' })], SEEN)?.fate).toBe('spared')
  })

  it('of another position or weak point is not its own', () => {
    expect(outcomeOf([on(30, { found: 'failed', positions: [2] })], SEEN)?.fate).toBe('spared')
    expect(outcomeOf([on(30, { found: 'failed', weakPoint: 'fuse' })], SEEN)?.fate).toBe('spared')
  })
})

describe('a part opened before it could fail', () => {
  const chance = (days: number, ageing = 1) => 1 - Math.exp((-(90 - days) * KM_PER_DAY * ageing) / DELTA)

  it('and found going counts as its chance of failing in the rest', () => {
    const found = outcomeOf([on(30, { found: 'developing' })], SEEN)
    expect(found).toMatchObject({ fate: 'developing', on: CUT_OFF + 30, share: 1 })
    expect(found?.failed).toBeCloseTo(chance(30), 9)
  })

  it('has come as far as readings say, though they were written down after the last day on record', () => {
    const lastDay = CUT_OFF + 950
    const readings = Array.from({ length: 21 }, (_, i) => {
      const readOn = i < 20 ? FIRST + 95 * i : lastDay
      const odometerKm = 2 * KM_PER_DAY * (readOn - FIRST)
      return readingRow({ unit: 'T1', readOn, odometerKm, enteredOn: lastDay + 20 })
    })
    const found = outcomeOf([on(30, { found: 'developing' })], { lastDay, more: { readings } })
    expect(found?.failed).toBeCloseTo(chance(30, 2), 9)
  })

  it('ages as its duty says', () => {
    const found = outcomeOf([on(30, { found: 'developing' })], { ...SEEN, vehicle: { duty: 'short' } })
    expect(found?.failed).toBeCloseTo(chance(30, 1.5), 9)
  })

  it('may have been found going before, when nothing was done', () => {
    const seen = on(10, { action: 'inspect', found: 'developing' })
    expect(outcomeOf([seen, on(40)], SEEN)?.failed).toBeCloseTo(chance(40), 9)
    expect(outcomeOf([seen], SEEN)?.fate).toBe('spared')
    expect(outcomeOf([seen, on(40, { found: 'failed' })], SEEN)?.fate).toBe('failed')
  })

  it('and found sound, or in a state that nobody noted, ends the forecast there', () => {
    for (const [found, fate] of [
      ['sound', 'ended'],
      [null, 'unnoted'],
    ] as const)
      expect(outcomeOf([on(30, { found })], SEEN)).toEqual({
        fate,
        on: CUT_OFF + 30,
        failed: 0,
        share: 1 / 3,
      })
  })

  it('says nothing by "going" where nothing warns', () => {
    expect(outcomeOf([on(30, { found: 'developing' })], { ...SEEN, weakPoint: fuse! })?.fate).toBe('ended')
  })

  it('with the whole engine ends it too', () => {
    const more = { changes: [changeRow({ unit: 'T1', on: CUT_OFF + 45, kind: 'engine-used' })] }
    expect(outcomeOf([], { ...SEEN, more })).toMatchObject({ fate: 'ended', share: 0.5 })
  })
})

describe('a vehicle lost from sight', () => {
  it('is seen until it left', () => {
    const vehicle = { status: 'sold', soldOn: CUT_OFF + 45 } as const
    expect(outcomeOf([], { ...SEEN, vehicle })).toEqual({
      fate: 'lost',
      on: CUT_OFF + 45,
      failed: 0,
      share: 0.5,
    })
    expect(outcomeOf([], { ...SEEN, vehicle: { ...vehicle, coverUntilOn: CUT_OFF + 365 } })?.fate).toBe(
      'spared',
    )
  })

  it('is seen until its last record where nothing more came for more than 400 days', () => {
    expect(outcomeOf([], { lastDay: CUT_OFF + 45 })).toMatchObject({ fate: 'lost', on: CUT_OFF + 45 })
    expect(outcomeOf([], { lastDay: CUT_OFF + 620 })).toMatchObject({ fate: 'spared' })
    expect(outcomeOf([], { lastDay: CUT_OFF - 10 })).toBeNull()
  })

  it('is lost where its records cease', () => {
    const more = { changes: [changeRow({ unit: 'T1', on: CUT_OFF + 9, kind: 'gap-from' })] }
    expect(outcomeOf([on(30, { found: 'failed' })], { ...SEEN, more })).toMatchObject({
      fate: 'lost',
      share: 0.1,
    })
  })
})

it('a part that waits for its repair is not put to the test', () => {
  const found = on(-5, { action: 'inspect', found: 'failed' })
  expect(outcomeOf([found, on(3)], SEEN)).toBeNull()
  expect(outcomeOf([found, on(-2)], SEEN)?.fate).toBe('spared')
})

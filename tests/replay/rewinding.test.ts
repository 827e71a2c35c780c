/** The records as they stood: nothing dated or entered later is visible, and no score knows of it. */
import { describe, expect, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { Records } from '@/lib/records/rows'
import { recordsAsOf } from '@/lib/replay/records-as-of'
import { simulatedLibrary } from '../simulation/libraries'
import {
  changeRow,
  checkRow,
  codeRow,
  readingRow,
  recordsOf,
  repairRow,
  vehicleRow,
} from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'

const CUT_OFF = 18_700
const library = simulatedLibrary('knot', 'experience')
const world = simulateWorld({
  seed: 3,
  library,
  vehicles: 2,
  firstDay: 18_000,
  spreadDays: 100,
  lastDay: 18_900,
  snapshots: [],
})
const unit = world.records.vehicles[0]!.unit
const lastKm = world.records.readings.findLast(
  (row) => row.unit === unit && row.readOn <= CUT_OFF,
)!.odometerKm

const scoresOf = (records: Records) =>
  scoreFleet({ records: recordsAsOf(records, CUT_OFF), library, asOf: CUT_OFF, horizons: [{ days: 90 }] })

const added = (more: Partial<Records>): Records => ({
  ...world.records,
  vehicles: [...world.records.vehicles, ...(more.vehicles ?? [])],
  readings: [...world.records.readings, ...(more.readings ?? [])],
  codes: [...world.records.codes, ...(more.codes ?? [])],
  checks: [...world.records.checks, ...(more.checks ?? [])],
  repairs: [...world.records.repairs, ...(more.repairs ?? [])],
  changes: [...world.records.changes, ...(more.changes ?? [])],
})

/** Each kind of record, on a day and entered on one: all of them move a score where they may be seen. */
const planted = (on: number, enteredOn: number | null): [string, Partial<Records>][] => [
  ['a reading', { readings: [readingRow({ unit, readOn: on, odometerKm: lastKm + 900, enteredOn })] }],
  ['a code', { codes: [codeRow({ unit, seenOn: on, code: 'P0301', enteredOn })] }],
  [
    'a check',
    {
      checks: [
        checkRow({
          unit,
          checkedOn: on,
          kind: 'visual',
          seen: [{ sign: 'oil-trace', position: null }],
          enteredOn,
        }),
      ],
    },
  ],
  [
    'a repair',
    {
      repairs: [
        repairRow({
          unit,
          doneOn: on,
          weakPoint: 'coil',
          positions: [2],
          action: 'renew',
          found: 'failed',
          enteredOn,
        }),
      ],
    },
  ],
  ['a change', { changes: [changeRow({ unit, on, kind: 'engine-new', enteredOn })] }],
  [
    'a vehicle',
    { vehicles: [vehicleRow({ unit: 'late', family: 'knot-16', builtOn: on, inServiceOn: on, enteredOn })] },
  ],
]

describe('a record planted in the past', () => {
  const before = scoresOf(world.records)

  it.each(planted(CUT_OFF - 5, CUT_OFF + 1))('%s that was entered later changes no score', (_, more) => {
    expect(scoresOf(added(more))).toEqual(before)
  })

  it.each(planted(CUT_OFF + 1, null))('%s that is dated later changes no score', (_, more) => {
    expect(scoresOf(added(more))).toEqual(before)
  })

  it.each(planted(CUT_OFF + 1, CUT_OFF - 1))(
    '%s dated later and entered before changes no score',
    (_, more) => {
      expect(scoresOf(added(more))).toEqual(before)
    },
  )

  it.each(planted(CUT_OFF, CUT_OFF))('%s that was known by then does', (_, more) => {
    expect(scoresOf(added(more))).not.toEqual(before)
  })
})

describe('rewound records', () => {
  it('hold no row dated later', () => {
    const { readings, checks, codes, repairs } = recordsAsOf(world.records, CUT_OFF)
    const days = [
      ...readings.map((row) => row.readOn),
      ...checks.map((row) => row.checkedOn),
      ...codes.map((row) => row.seenOn),
      ...repairs.map((row) => row.doneOn),
    ]
    expect(Math.max(...days)).toBeLessThanOrEqual(CUT_OFF)
    expect(world.records.readings.some((row) => row.readOn > CUT_OFF)).toBe(true)
  })

  it('score as all records do as of that day', () => {
    const asOf = scoreFleet({ records: world.records, library, asOf: CUT_OFF, horizons: [{ days: 90 }] })
    expect(scoresOf(world.records)).toEqual(asOf)
  })

  it('may show what was entered until another day', () => {
    const late = recordsOf({
      vehicles: [vehicleRow({ unit, family: 'knot-16', inServiceOn: 18_000 })],
      repairs: [repairRow({ unit, doneOn: 18_500, weakPoint: 'coil', enteredOn: 18_705 })],
    })
    expect(recordsAsOf(late, 18_700).repairs).toHaveLength(0)
    expect(recordsAsOf(late, 18_700, 18_710).repairs).toHaveLength(1)
  })

  const vehicleThen = (row: Partial<Records['vehicles'][number]>, more: Partial<Records> = {}) =>
    recordsAsOf(recordsOf({ vehicles: [vehicleRow({ unit, family: 'knot-16', ...row })], ...more }), CUT_OFF)
      .vehicles[0]

  it('have a vehicle that left later as it was: at work, or in stock', () => {
    const left = {
      status: 'sold',
      soldOn: CUT_OFF + 10,
      coverUntilOn: CUT_OFF + 99,
      inServiceOn: 18_000,
    } as const
    expect(vehicleThen(left)).toMatchObject({ status: 'active', soldOn: null, coverUntilOn: null })
    expect(vehicleThen({ ...left, acquiredOn: 18_600 })).toMatchObject({ status: 'stock' })
    expect(vehicleThen({ ...left, soldOn: CUT_OFF })).toMatchObject({ status: 'sold', soldOn: CUT_OFF })
  })

  it('take a vehicle that left without a date to have left with its last record', () => {
    const gone = { status: 'retired', inServiceOn: 18_000 } as const
    const lastOn = (readOn: number) => ({ readings: [readingRow({ unit, readOn, odometerKm: 10 })] })
    expect(vehicleThen(gone, lastOn(CUT_OFF + 3))?.status).toBe('active')
    expect(vehicleThen(gone, lastOn(CUT_OFF - 3))?.status).toBe('retired')
  })

  it('do not have a vehicle that was not there yet', () => {
    expect(vehicleThen({ inServiceOn: 18_000, acquiredOn: CUT_OFF + 1 })).toBeUndefined()
    expect(vehicleThen({ inServiceOn: 18_000, watchedFromOn: CUT_OFF + 1 })).toBeUndefined()
    // Nothing says since when: since its first record.
    const read = (readOn: number) => ({ readings: [readingRow({ unit, readOn, odometerKm: 10 })] })
    expect(vehicleThen({}, read(CUT_OFF + 1))).toBeUndefined()
    expect(vehicleThen({}, read(CUT_OFF))).toBeDefined()
  })

  it('do not know that a code was cleared later', () => {
    const cleared = (clearedOn: number) =>
      recordsAsOf(
        recordsOf({
          vehicles: [vehicleRow({ unit, family: 'knot-16', inServiceOn: 18_000 })],
          codes: [codeRow({ unit, seenOn: 18_600, code: 'P0301', clearedOn })],
        }),
        CUT_OFF,
      ).codes[0]?.clearedOn
    expect(cleared(CUT_OFF + 1)).toBeNull()
    expect(cleared(CUT_OFF)).toBe(CUT_OFF)
  })
})

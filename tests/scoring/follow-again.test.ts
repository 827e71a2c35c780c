/** A vehicle that is followed again, from where its records are still the same, against following it from its first day. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { type PastRecords, recordsAsOf } from '@/lib/replay/records-as-of'
import { EnginePlans } from '@/lib/scoring/engine-plans'
import { clockOf, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { FollowedAgain } from '@/lib/scoring/follow-again'
import { type FollowedVehicle, followVehicle } from '@/lib/scoring/follow-vehicle'
import { statedParameters } from '@/lib/scoring/parameters'
import { chanceDeveloping, chancesWithin } from '@/lib/scoring/score-components'
import { watchOf } from '@/lib/scoring/watch'
import type { FollowInput } from '@/lib/scoring/way'
import type { Day } from '@/lib/units/dates'
import { runs } from '../runs'
import { AS_OF_KM, anyHistory, anyLibrary, anyVehicle } from './any-history'
import { dayAt, FIRST_DAY, type History, looked, recordsAt, repaired } from './one-vehicle'

const family = anyLibrary.families[0]!
const LAST_DAY = dayAt(AS_OF_KM)

/** The vehicle on a day, as it was known then. */
function inputOn(records: PastRecords, asOf: Day): FollowInput | null {
  const [one] = fleetVehicles(recordsAsOf(records, asOf), asOf)
  if (!one) return null
  const { clock } = clockOf(one, asOf)
  const plan = new EnginePlans(asOf).of(family, one.records)
  const watch = watchOf(one.records, clock, asOf)
  return { records: one.records, plan, parameters: statedParameters(family), clock, watch, asOf }
}

function told({ belief, stops, windows: _, ...rest }: FollowedVehicle, { clock }: FollowInput) {
  return {
    ...rest,
    stops,
    chances: chancesWithin(belief, clock, { days: 90 }),
    developing: belief.beliefs.map((__, c) => chanceDeveloping(belief, c)),
    beginnings: belief.beliefs.map(({ beginning, renewedAt, failed }) => ({ beginning, renewedAt, failed })),
    said: [belief.testimonies, belief.contradictions],
  }
}

/** Whether a digit differs on any of the days. */
function isAlikeOn(days: readonly Day[], records: PastRecords): void {
  const again = new FollowedAgain()
  for (const day of days) {
    const input = inputOn(records, day)
    if (input) expect(told(again.follow(input), input)).toEqual(told(followVehicle(input), input))
  }
}

/** Some rows are written down late, some readings are off, some codes are cleared. */
function changed(records: Records, by: readonly number[]): Records {
  const pick = (i: number) => by[i % by.length]!
  const late = <Row extends { enteredOn: Day | null }>(rows: Row[], dayOf: (row: Row) => Day): Row[] =>
    rows.map((row, i) => (pick(i) % 4 === 1 ? { ...row, enteredOn: dayOf(row) + pick(i) } : row))
  return {
    ...records,
    readings: late(records.readings, (row) => row.readOn).map((row, i) => ({
      ...row,
      odometerKm: row.odometerKm + (pick(i) % 7 === 2 ? 40_000 : 0),
      engineHours: pick(i) % 5 === 3 ? row.odometerKm / 40 : null,
    })),
    codes: records.codes.map((row, i) => ({ ...row, clearedOn: row.seenOn + pick(i) })),
    checks: late(records.checks, (row) => row.checkedOn),
    repairs: late(records.repairs, (row) => row.doneOn),
    changes: late(records.changes, (row) => row.on),
  }
}

it('whatever is on record, whenever it was entered, following it again tells the same to the last digit', () => {
  const days = fc.array(fc.integer({ min: FIRST_DAY, max: LAST_DAY }), { minLength: 3, maxLength: 6 })
  const by = fc.array(fc.integer({ min: 0, max: 120 }), { minLength: 1, maxLength: 30 })
  fc.assert(
    fc.property(anyHistory, anyVehicle, days, by, fc.boolean(), (history, vehicle, asked, off, inOrder) => {
      const records = changed(recordsAt(AS_OF_KM, history, { vehicle }), off)
      isAlikeOn(inOrder ? asked.toSorted((a, b) => a - b) : asked, records)
    }),
    { numRuns: runs(60), seed: 20_261_128 },
  )
})

const history: History = [
  ...Array.from({ length: 30 }, (_, i) => [6_000 * i + 1_200, looked('visual')] as const),
  [90_000, looked('scan', { sign: 'misfire', position: 1 })] as const,
  [91_800, repaired('coil', { found: 'failed' })] as const,
].toSorted((a, b) => a[0] - b[0])

it('month after month, what was followed before is not followed again', () => {
  const records = recordsAt(AS_OF_KM, history)
  const again = new FollowedAgain()
  const begun = Array.from({ length: 6 }, (_, month) => {
    const input = inputOn(records, dayAt(150_000) + 30 * month)!
    let asked = 0
    const of: typeof input.parameters.of = (...about) => {
      asked++
      return statedParameters(family).of(...about)
    }
    counting.of = of
    again.follow({ ...input, parameters: counting })
    return asked
  })
  expect(begun[0]).toBeGreaterThan(0)
  expect(begun.slice(1)).toEqual([0, 0, 0, 0, 0])
})

/** The library's parameters, one and the same for all that is asked. */
const counting = { ...statedParameters(family) }

const lastRow = repaired('seep', { found: 'developing' })
const lampOn = looked('lamp', { sign: 'lamp-on', position: null })
const hotRead = looked('scan', { sign: 'hot', position: null })
const lateOn = dayAt(150_000)

it.each<[string, History, (records: Records) => PastRecords]>([
  [
    'a repair that is entered late, before others',
    history,
    (records) => ({ ...records, repairs: records.repairs.map((row) => ({ ...row, enteredOn: lateOn })) }),
  ],
  [
    'one that is corrected',
    [...history, [100_000, lastRow]],
    ({ repairs, ...records }) => ({
      ...records,
      repairs: repairs.map((row) => ({ ...row, enteredOn: lateOn })),
      former: {
        ...{ readings: [], codes: [], checks: [], changes: [] },
        repairs: repairs.map((row) => ({ ...row, weakPoint: 'gasket', endedOn: lateOn })),
      },
    }),
  ],
  [
    'a code that is entered late, read after the lamp was seen to be on',
    [
      [90_000, lampOn],
      [90_600, hotRead],
    ],
    (records) => ({
      ...records,
      checks: records.checks.map((row) => ({ ...row, enteredOn: row.kind === 'scan' ? lateOn : null })),
    }),
  ],
  [
    'a reading that puts a repair at another odometer',
    [[90_000, repaired('coil', {})]],
    (records) => ({
      ...records,
      repairs: records.repairs.map((row) => ({ ...row, odometerKm: null })),
      readings: records.readings
        .filter(({ readOn }) => Math.abs(readOn - dayAt(90_000)) > 60)
        .concat(
          records.readings
            .slice(0, 1)
            .map((row) => ({ ...row, readOn: dayAt(90_000), odometerKm: 88_000, enteredOn: lateOn })),
        ),
    }),
  ],
  [
    'a code that is read after the lamp was seen to be on',
    [
      [148_800, lampOn],
      [149_640, hotRead],
    ],
    (records) => ({
      ...records,
      readings: records.readings.filter(({ readOn }) => readOn !== dayAt(149_400)),
    }),
  ],
])('%s is heard of', (_, happened, change) => {
  const records = change(recordsAt(AS_OF_KM, happened))
  isAlikeOn([140_000, 148_800, 149_100, 149_900, 151_000, 160_000].map(dayAt), records)
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { ChangeRow } from '@/lib/records/rows'
import { swappedWith } from '@/lib/records/swapped-vehicle'
import { type Odometer, type TrustOptions, trustOdometer } from '@/lib/records/trusted-odometer'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { cpuMs } from '../model/cpu-time'
import { randomFrom, readingRow, recordsOf } from './odometer-records'

const CAP = 1500
const trust = (records: VehicleRecords, options: Partial<TrustOptions> = {}): Odometer =>
  trustOdometer(records, { capKmPerDay: CAP, upTo: 10_000, ...options })

type Reading = [day: number, km: number]

/** Readings every 30 days at 50 km a day, from `km` on day `day`. */
const steady = (count: number, day = 0, km = 80_000): Reading[] =>
  Array.from({ length: count }, (_, i) => [day + 30 * i, km + 1500 * i])

const trustedOf = ({ trusted }: Odometer): Reading[] =>
  Array.from(trusted.day, (day, k) => [day, trusted.km[k] ?? Number.NaN])

/** Causes of the distrusted readings by their day. */
const causesOf = ({ points }: Odometer): [day: number, cause: string | null][] =>
  points.filter((p) => p.verdict === 'distrusted').map((p) => [p.day, p.cause])

const change = (kind: ChangeRow['kind'], on: number, fields: Partial<ChangeRow> = {}): ChangeRow => {
  const blank = { odometerKm: null, engineKm: null, offsetKm: null, ref: null, enteredOn: null, notes: {} }
  return { unit: 'V1', on, kind, line: 2, ...blank, ...fields }
}

describe('which odometers are trusted', () => {
  test('none where there are none, and a single one always', () => {
    expect(trust(recordsOf([]))).toMatchObject({ points: [], startOn: null, questions: [] })
    expect(trustedOf(trust(recordsOf([[5, 123]])))).toEqual([[5, 123]])
  })

  test('all of a steady vehicle, in whatever order they stand in the file', () => {
    const readings = steady(6)
    const shuffled = [3, 0, 5, 1, 4, 2].flatMap((i) => readings.slice(i, i + 1))
    const odometer = trust(recordsOf(shuffled))
    expect(trustedOf(odometer)).toEqual(readings)
    expect(odometer.points.map((p) => p.line)).toEqual([3, 5, 7, 2, 6, 4])
  })

  test('odometers of every file count, and each point says where it stands', () => {
    const common = { unit: 'V1', ref: null, enteredOn: null, notes: {} }
    const odometer = trust(
      recordsOf([[30, 1000]], {
        vehicle: { watchedFromOn: 20, watchedFromKm: 500, line: 9 },
        codes: [
          {
            ...common,
            seenOn: 40,
            odometerKm: 1500,
            code: 'P0302',
            state: 'stored',
            lamp: null,
            clearedOn: null,
            line: 3,
          },
        ],
        checks: [
          {
            ...common,
            checkedOn: 50,
            odometerKm: 2000,
            kind: 'scan',
            seen: [],
            lookedFor: null,
            kmSinceCleared: null,
            line: 4,
          },
        ],
        changes: [change('owner', 60, { odometerKm: 2500, line: 5 })],
      }),
    )
    expect(odometer.points.map(({ file, line, km }) => [file, line, km])).toEqual([
      ['vehicles', 9, 500],
      ['readings', 2, 1000],
      ['codes', 3, 1500],
      ['checks', 4, 2000],
      ['changes', 5, 2500],
    ])
    expect(odometer.trusted.day).toHaveLength(5)
  })

  test('nothing dated or entered after the day asked for', () => {
    const late = readingRow(20, 1100, { enteredOn: 70 })
    const records = recordsOf([], { readings: [readingRow(10, 1000), late, readingRow(60, 2000)] })
    expect(trustedOf(trust(records, { upTo: 50 }))).toEqual([[10, 1000]])
    expect(trustedOf(trust(records, { upTo: 70 }))).toHaveLength(3)
  })

  test('of several readings on a day the highest that fits counts, the others are "same day"', () => {
    const odometer = trust(recordsOf([[0, 1000], [5, 1500], [5, 1520], [9, 1900]])) // biome-ignore format: pairs of one odometer read in one line
    expect(trustedOf(odometer)).toEqual([[0, 1000], [5, 1520], [9, 1900]]) // biome-ignore format: pairs of one odometer read in one line
    expect(odometer.points.map((p) => p.verdict)).toEqual(['trusted', 'same-day', 'trusted', 'trusted'])
  })

  test('a figure copied into many rows of one day has one vote', () => {
    const copies: Reading[] = Array.from({ length: 6 }, () => [45, 8250])
    const odometer = trust(recordsOf([...steady(4), ...copies]))
    expect(trustedOf(odometer)).toEqual(steady(4))
    expect(causesOf(odometer)).toEqual(copies.map(([day]) => [day, 'digit slip']))
  })

  test('any two trusted readings agree, and nothing is ever left out', () => {
    const reading = fc.tuple(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 0, max: 200_000 }))
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 60 }), (readings) => {
        const odometer = trust(recordsOf(readings))
        const chosen = trustedOf(odometer)
        chosen.slice(1).forEach(([day, km], k) => {
          const [earlierDay, earlierKm] = chosen[k] ?? [0, 0]
          expect(day).toBeGreaterThan(earlierDay)
          expect(km).toBeGreaterThanOrEqual(earlierKm)
          expect(km - earlierKm).toBeLessThanOrEqual(CAP * (day - earlierDay))
        })
        expect(odometer.points.map((p) => p.line).sort((a, b) => a - b)).toEqual(
          readings.map((_, i) => i + 2),
        )
        for (const point of odometer.points) expect(point.cause !== null).toBe(point.verdict === 'distrusted')
      }),
    )
  })

  test('a reading that contradicts two of five good ones changes nothing about them', () => {
    const day = fc.integer({ min: 1, max: 119 }).filter((d) => d % 30 !== 0)
    fc.assert(
      fc.property(day, fc.integer({ min: 0, max: 400_000 }), (wildDay, wildKm) => {
        const contradicted = steady(5).filter(([d, km]) => {
          const step = d < wildDay ? wildKm - km : km - wildKm
          return step < 0 || step > CAP * Math.abs(d - wildDay)
        })
        fc.pre(contradicted.length >= 2)
        expect(trustedOf(trust(recordsOf([...steady(5), [wildDay, wildKm]])))).toEqual(steady(5))
      }),
    )
  })
})

describe('the likeliest cause of a distrusted reading', () => {
  const among = (day: number, km: number) => trust(recordsOf([...steady(8), [day, km]]))

  // The vehicle stood at 84,000 km on day 80.
  test.each([
    ['miles taken for km', 52_195, 'unit mix-up'],
    ['km taken for miles', 135_185, 'unit mix-up'],
    ['one digit wrong', 34_000, 'digit slip'],
    ['two digits swapped', 48_000, 'digit slip'],
    ['a digit missing', 8_400, 'digit slip'],
    ['a digit too many', 840_050, 'digit slip'],
    ['nothing of the kind', 611_111, 'unexplained'],
  ])('%s', (_, km, cause) => {
    expect(causesOf(among(80, km))).toEqual([[80, cause]])
  })

  test('a digit slip in a file in miles is found in miles', () => {
    const miles: Reading[] = steady(8).map(([day, km]) => [day, Math.round(km / 1.609344) * 1.609344])
    expect(causesOf(trust(recordsOf([...miles, [80, 92_196 * 1.609344]])))).toEqual([[80, 'digit slip']])
  })

  test('roll-back: a run of later, lower readings', () => {
    const odometer = trust(recordsOf([...steady(8), ...steady(3, 240, 61_000)]))
    expect(causesOf(odometer)).toEqual([240, 270, 300].map((day) => [day, 'roll-back']))
  })

  test('roll-back: where the later run is the longer, the earlier one is distrusted', () => {
    const odometer = trust(recordsOf([...steady(3), ...steady(4, 90, 60_000)]))
    expect(trustedOf(odometer)).toEqual(steady(4, 90, 60_000))
    expect(causesOf(odometer)).toEqual([0, 30, 60].map((day) => [day, 'roll-back']))
  })

  test('roll-back: a vehicle that has since passed its old reading', () => {
    const odometer = trust(recordsOf([...steady(8), ...steady(20, 240, 86_000)]))
    expect(odometer.points.filter((p) => p.cause === 'roll-back').length).toBeGreaterThan(2)
    expect(causesOf(odometer).every(([, cause]) => cause === 'roll-back')).toBe(true)
  })

  test('a lone lower reading at the end is no run', () => {
    expect(causesOf(among(240, 61_111))).toEqual([[240, 'unexplained']])
  })

  test('cluster replacement: the new one counts from nought, and its offset is asked for', () => {
    const odometer = trust(recordsOf([...steady(8), ...steady(3, 240, 1_200)]))
    expect(causesOf(odometer)).toEqual([240, 270, 300].map((day) => [day, 'cluster replacement']))
    expect(odometer.questions).toEqual([{ kind: 'cluster replacement', on: 240, offsetKm: 90_800 }])
  })

  test('cluster replacement: a used one that shows more', () => {
    const odometer = trust(recordsOf([...steady(8), ...steady(3, 240, 410_000)]))
    expect(causesOf(odometer)).toEqual([240, 270, 300].map((day) => [day, 'cluster replacement']))
  })

  test('cluster replacement on record without an offset explains even a single lower reading', () => {
    const changes = [change('cluster', 225)]
    const odometer = trust(recordsOf([...steady(8), [240, 61_000]], { changes }))
    expect(causesOf(odometer)).toEqual([[240, 'cluster replacement']])
    expect(odometer.questions).toEqual([{ kind: 'cluster replacement', on: 240, offsetKm: 31_000 }])
  })

  test('cluster replacement with its offset on record: later readings go on from the old ones', () => {
    const changes = [change('cluster', 225, { offsetKm: 91_250, odometerKm: 0 })]
    const odometer = trust(recordsOf([...steady(8), ...steady(3, 240, 750)], { changes }))
    expect(causesOf(odometer)).toEqual([])
    expect(trustedOf(odometer)).toEqual([...steady(8), [225, 91_250], ...steady(3, 240, 92_000)])
    expect(odometer.points.map((p) => p.readKm).slice(-3)).toEqual([750, 2250, 3750])
  })

  test('an offset that was entered later does not yet count', () => {
    const changes = [change('cluster', 225, { offsetKm: 91_250, enteredOn: 400 })]
    const records = recordsOf([...steady(8), ...steady(3, 240, 750)], { changes })
    expect(causesOf(trust(records, { upTo: 399 }))).toHaveLength(3)
    expect(causesOf(trust(records, { upTo: 400 }))).toEqual([])
  })

  test('swapped vehicle: the one other vehicle that stood there that day', () => {
    const other = trust(recordsOf(steady(8, 0, 190_123)))
    const far = trust(recordsOf(steady(8, 0, 300_000)))
    const own: VehicleRecords = recordsOf([...steady(8), [80, 194_150]])
    const fleet = new Map([
      ['V1', trust(own)],
      ['V2', other],
      ['V3', far],
    ])
    expect(causesOf(trust(own))).toEqual([[80, 'unexplained']])
    expect(causesOf(trust(own, { fitsAnother: swappedWith(fleet, 'V1') }))).toEqual([[80, 'swapped vehicle']])
    const two = new Map([...fleet, ['V4', other]])
    expect(causesOf(trust(own, { fitsAnother: swappedWith(two, 'V1') }))).toEqual([[80, 'unexplained']])
  })
})

describe('two sources that run side by side', () => {
  const tracker = (source: string, count: number) =>
    Array.from({ length: count }, (_, i) => readingRow(3 + 7 * i, 150 + 350 * i, { source }))

  test('are asked about, not voted on', () => {
    const instrument = steady(8).map(([day, km]) => readingRow(day, km))
    const readings = [...instrument, ...tracker('tracker', 30)]
    const odometer = trust(recordsOf([], { readings }))
    expect(trustedOf(odometer)).toEqual(steady(8))
    expect(new Set(causesOf(odometer).map(([, cause]) => cause))).toEqual(new Set(['second source']))
    expect(odometer.questions).toEqual([
      { kind: 'two sources', source: 'tracker', differenceKm: -80_000, fromDay: 3, toDay: 206 },
    ])
  })

  test('even where one reports a hundred times as often', () => {
    const daily = Array.from({ length: 210 }, (_, i) => readingRow(i, 50 * i, { source: 'tracker' }))
    const instrument = steady(8).map(([day, km]) => readingRow(day, km))
    const odometer = trust(recordsOf([], { readings: [...daily, ...instrument] }))
    expect(trustedOf(odometer)).toEqual(steady(8))
  })

  test('of two named ones the higher counts', () => {
    const instrument = steady(8).map(([day, km]) => readingRow(day, km, { source: 'desk' }))
    const odometer = trust(recordsOf([], { readings: [...tracker('tracker', 30), ...instrument] }))
    expect(trustedOf(odometer)).toEqual(steady(8))
  })

  test('that agree are one', () => {
    const readings = steady(12).map(([day, km], i) => readingRow(day, km, { source: i % 2 ? 'desk' : null }))
    const odometer = trust(recordsOf([], { readings }))
    expect(trustedOf(odometer)).toEqual(steady(12))
    expect(odometer.questions).toEqual([])
  })
})

describe('the day at 0 km', () => {
  const startOf = (vehicle: VehicleRecords['vehicle'] | object, readings: Reading[] = steady(3, 2000)) =>
    trust(recordsOf(readings, { vehicle })).startOn

  test('is that of being put into service, else that of being built', () => {
    expect(startOf({ inServiceOn: 100, builtOn: 40 })).toBe(100)
    expect(startOf({ builtOn: 40 })).toBe(40)
    expect(startOf({})).toBeNull()
  })

  test('is dropped where the first reading could not have been reached from it', () => {
    expect(startOf({ inServiceOn: 1990 })).toBeNull()
    expect(startOf({ inServiceOn: 2100 })).toBeNull()
  })
})

test('ten thousand readings of one vehicle, and 150 of each of many, are judged in good time', () => {
  const { uniform } = randomFrom(1)
  const wild = (km: number): number => (uniform() < 0.02 ? Math.floor(uniform() * 400_000) : km)
  const drive = (count: number, step: number): VehicleRecords =>
    recordsOf(
      Array.from({ length: count }, (_, i) => [Math.floor(i * step), wild(Math.round(50 * i * step))]),
    )
  const one = drive(10_000, 0.5)
  const fleet = Array.from({ length: 200 }, () => drive(150, 14))
  expect(cpuMs(() => trust(one))).toBeLessThan(1000) // measured 60 ms
  const ofFleet = cpuMs(() => {
    for (const records of fleet) trust(records)
  })
  expect(ofFleet / fleet.length).toBeLessThan(2) // measured 0.3 ms
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { VehicleRow } from '@/lib/records/rows'
import { trustOdometer } from '@/lib/records/trusted-odometer'
import { type ClassRate, usageRate } from '@/lib/records/usage'
import { type VehicleClock, vehicleClock } from '@/lib/records/vehicle-clock'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { cpuMs } from '../model/cpu-time'
import { readingRow, recordsOf } from './odometer-records'

const CLASS: ClassRate = { logKmPerDay: Math.log(60), betweenLogSd: 0.5, forecastLogSd: 0.3 }
const AS_OF = 1000

function clockOf(records: VehicleRecords, asOf = AS_OF): VehicleClock {
  const odometer = trustOdometer(records, { capKmPerDay: 1500, upTo: asOf })
  const usage = usageRate(odometer, asOf, CLASS, { stock: records.vehicle.status === 'stock' })
  return vehicleClock(records, odometer, usage, asOf)
}

type Reading = [day: number, km: number]
const clock = (readings: Reading[], vehicle: Partial<VehicleRow> = {}) =>
  clockOf(recordsOf(readings, { vehicle }))

describe('the odometer on any day', () => {
  test('is what was read, and a straight line between readings', () => {
    const { kmAt, estimatedOn } = clock([[900, 50_000], [910, 50_500], [930, 52_500]]) // biome-ignore format: pairs of one odometer read in one line
    expect([900, 905, 910, 920, 930].map(kmAt)).toEqual([50_000, 50_250, 50_500, 51_500, 52_500])
    expect([905, 910, 931].map(estimatedOn)).toEqual([true, false, true])
  })

  test('goes on after the last reading at the rate of use', () => {
    const { kmAt, usage, lastTrusted, ahead } = clock([[900, 50_000], [940, 54_000]]) // biome-ignore format: pairs of one odometer read in one line
    expect(lastTrusted).toEqual({ day: 940, km: 54_000 })
    expect(kmAt(AS_OF)).toBeCloseTo(54_000 + 60 * usage.kmPerDay, 9)
    expect(ahead(90).km).toBeCloseTo(kmAt(AS_OF + 90) - kmAt(AS_OF), 9)
  })

  test('goes back to 0 on the day of being put into service', () => {
    const { kmAt } = clock([[900, 45_000], [940, 49_000]], { inServiceOn: 0 }) // biome-ignore format: pairs of one odometer read in one line
    expect([-50, 0, 450, 900].map(kmAt)).toEqual([0, 0, 22_500, 45_000])
  })

  test('where that is not known goes back at the mean rate, not below 0', () => {
    const { kmAt } = clock([[900, 2_000], [940, 6_000]]) // biome-ignore format: pairs of one odometer read in one line
    expect([895, 880, 870].map(kmAt)).toEqual([1_500, 0, 0])
  })

  test('of a vehicle never read runs from its first day at the rate of its class', () => {
    const dated = clock([], { inServiceOn: 500 })
    expect(dated.kmAt(AS_OF)).toBeCloseTo(500 * 60, 6)
    expect(dated).toMatchObject({ lastTrusted: null, standing: false })
    expect(dated.estimatedOn(AS_OF)).toBe(true)
    expect(clock([], { watchedFromOn: 900 }).kmAt(AS_OF)).toBeCloseTo(6_000, 6)
    expect(clock([]).kmAt(AS_OF + 10)).toBeCloseTo(600, 6)
  })

  test('of a distrusted reading is the interpolated one', () => {
    const good: Reading[] = [[850, 40_000], [880, 43_000], [910, 46_000], [940, 49_000]] // biome-ignore format: pairs of one odometer read in one line
    const { kmAt, estimatedOn } = clock([...good, [895, 454_500]])
    expect(kmAt(895)).toBe(44_500)
    expect(estimatedOn(895)).toBe(true)
  })

  test('never falls, and answers what is trusted on its day', () => {
    const reading = fc.tuple(fc.integer({ min: 0, max: AS_OF }), fc.integer({ min: 0, max: 300_000 }))
    const start = fc.option(fc.integer({ min: -500, max: AS_OF }))
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 30 }), start, (readings, inServiceOn) => {
        const records = recordsOf(readings, { vehicle: { inServiceOn } })
        const { kmAt } = clockOf(records)
        const days = Array.from({ length: 200 }, (_, i) => -500 + 10 * i)
        const km = days.map(kmAt)
        km.slice(1).forEach((value, i) => {
          expect(value).toBeGreaterThanOrEqual(km[i] ?? 0)
        })
        for (const point of trustOdometer(records, { capKmPerDay: 1500, upTo: AS_OF }).points) {
          if (point.verdict === 'trusted') expect(kmAt(point.day)).toBe(point.km)
        }
      }),
    )
  })
})

describe('a horizon in distance', () => {
  test('is distance over rate', () => {
    const { daysForKm, usage } = clock([[900, 50_000], [940, 54_000]]) // biome-ignore format: pairs of one odometer read in one line
    expect(daysForKm(10_000)).toBeCloseTo(10_000 / usage.kmPerDay, 9)
  })

  test('counts at most 3,000 days on a vehicle that stands', () => {
    const { daysForKm, ahead, kmAt, standing } = clock([[950, 50_000], [990, 50_010]]) // biome-ignore format: pairs of one odometer read in one line
    expect(standing).toBe(true)
    expect(daysForKm(10_000)).toBe(3000)
    expect(ahead(365)).toEqual({ km: 0, hours: 0 })
    expect(kmAt(AS_OF + 365)).toBe(50_010)
  })
})

describe('engine hours', () => {
  const withHours = (
    rows: [day: number, km: number, hours: number | null][],
    rest: Partial<VehicleRow> = {},
  ) => {
    const readings = rows.map(([day, km, engineHours]) => readingRow(day, km, { engineHours }))
    return clockOf(recordsOf([], { readings, vehicle: rest }))
  }

  test.each([
    ['short', 24],
    ['mixed', 38],
    ['long', 58],
  ] as const)('without readings are distance over %s duty’s km per hour', (duty, kmPerHour) => {
    const { hoursAt, ahead, usage } = clock([[900, 38_000], [940, 39_000]], { duty }) // biome-ignore format: pairs of one odometer read in one line
    expect(hoursAt(900)).toBeCloseTo(38_000 / kmPerHour, 9)
    expect(ahead(30).hours).toBeCloseTo((30 * usage.kmPerDay) / kmPerHour, 9)
  })

  test('are interpolated between their readings', () => {
    const { hoursAt } = withHours([[800, 40_000, 1000], [900, 45_000, 1200]]) // biome-ignore format: pairs of one odometer read in one line
    expect([800, 850, 900].map(hoursAt)).toEqual([1000, 1100, 1200])
  })

  test('go on at their own recent rate, even of a vehicle that stands and idles', () => {
    const { hoursAt, ahead, standing } = withHours([[940, 40_000, 1000], [990, 40_000, 1100]]) // biome-ignore format: pairs of one odometer read in one line
    expect(standing).toBe(true)
    expect(hoursAt(AS_OF)).toBeCloseTo(1120, 9)
    expect(ahead(10).hours).toBeCloseTo(20, 9)
  })

  test('follow distance at the vehicle’s own km per hour where they were last given long ago', () => {
    const rows: [number, number, number | null][] = [
      [100, 10_000, 500],
      [300, 20_000, 1000],
      [800, 45_000, null],
    ]
    const { hoursAt } = withHours(rows)
    expect(hoursAt(800)).toBeCloseTo(1000 + 25_000 / 20, 9)
    expect(hoursAt(50)).toBeCloseTo((500 * 7_500) / 10_000, 9)
  })

  test('from one reading take the ratio of a lifetime, unless no road vehicle has it', () => {
    expect(withHours([[100, 30_000, 1000], [800, 60_000, null]]).hoursAt(800)).toBeCloseTo(2000, 9) // biome-ignore format: pairs of one odometer read in one line
    const absurd = withHours([[100, 30_000, 60], [800, 60_000, null]]) // biome-ignore format: pairs of one odometer read in one line
    expect(absurd.hoursAt(800)).toBeCloseTo(60 + 30_000 / 38, 9)
  })

  test('distrust what runs back or faster than the clock on the wall', () => {
    const rows: [number, number, number][] = [
      [700, 40_000, 1000],
      [750, 42_000, 1100],
      [760, 42_400, 11_200],
      [800, 44_000, 1200],
      [850, 46_000, 13],
      [900, 48_000, 1400],
    ]
    const { hoursAt } = withHours(rows)
    expect(hoursAt(760)).toBeCloseTo(1120, 9)
    expect(hoursAt(850)).toBeCloseTo(1300, 9)
  })

  test('never fall', () => {
    const row = fc.tuple(
      fc.integer({ min: 0, max: AS_OF }),
      fc.integer({ min: 0, max: 200_000 }),
      fc.option(fc.integer({ min: 0, max: 6_000 })),
    )
    fc.assert(
      fc.property(
        fc.array(row, { maxLength: 20 }),
        fc.option(fc.integer({ min: 0, max: 900 })),
        (rows, builtOn) => {
          const { hoursAt } = withHours(rows, { builtOn })
          const hours = Array.from({ length: 150 }, (_, i) => hoursAt(10 * i))
          hours.slice(1).forEach((value, i) => {
            expect(value).toBeGreaterThanOrEqual((hours[i] ?? 0) - 1e-9)
          })
        },
      ),
    )
  })

  test('entered after the as-of date are not seen', () => {
    const readings = [readingRow(900, 38_000, { engineHours: 5000, enteredOn: AS_OF + 1 })]
    expect(clockOf(recordsOf([], { readings })).hoursAt(900)).toBe(clock([]).hoursAt(900))
  })
})

test('ten thousand readings and ten thousand look-ups take well under a second', () => {
  const many = Array.from({ length: 10_000 }, (_, i): Reading => [i / 10, 5 * i])
  expect(
    cpuMs(() => {
      const { kmAt } = clock(many)
      for (let day = 0; day < 1000; day += 0.1) kmAt(day)
    }),
  ).toBeLessThan(1000) // measured 90 ms
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import type { VehicleRow } from '@/lib/records/rows'
import { type Odometer, trustOdometer } from '@/lib/records/trusted-odometer'
import { type ClassRate, classRateOf, classRates, usageFacts, usageRate } from '@/lib/records/usage'
import { randomFrom, recordsOf } from './odometer-records'

type Reading = [day: number, km: number]

const odometerOf = (readings: Reading[], vehicle: Partial<VehicleRow> = {}): Odometer =>
  trustOdometer(recordsOf(readings, { vehicle }), { capKmPerDay: 1500, upTo: 10_000 })

/** A reading every `gap` days up to `lastDay`, at `kmPerDay`. */
const steady = (kmPerDay: number, lastDay: number, days: number, gap = 15): Reading[] =>
  Array.from({ length: Math.floor(days / gap) + 1 }, (_, i) => {
    const day = lastDay - i * gap
    return [day, 100_000 + Math.round(kmPerDay * (day - lastDay + days))]
  })

/** How a class of a fleet is used. */
function ratesOf(fleet: { vehicle: VehicleRow; odometer: Odometer }[], asOf: number) {
  const rates = classRates(fleet.flatMap((one) => usageFacts(one.vehicle, one.odometer, asOf) ?? []))
  return (vehicle: Pick<VehicleRow, 'family' | 'duty'>): ClassRate => classRateOf(rates, vehicle)
}

const CLASS: ClassRate = { logKmPerDay: Math.log(60), betweenLogSd: 0.5, forecastLogSd: 0.3 }
const AS_OF = 1000

describe('usageRate', () => {
  test('of a steady vehicle is its own, shrunk a little towards its class', () => {
    const { kmPerDay, logSd, basis } = usageRate(odometerOf(steady(100, AS_OF, 165)), AS_OF, CLASS)
    expect(basis).toBe('readings')
    expect(kmPerDay).toBeGreaterThan(85)
    expect(kmPerDay).toBeLessThan(100)
    expect(logSd).toBeGreaterThan(0.2)
    expect(logSd).toBeLessThan(0.35)
  })

  test('of a vehicle in stock is its own alone', () => {
    const odometer = odometerOf(steady(100, AS_OF, 165))
    expect(usageRate(odometer, AS_OF, CLASS, { stock: true }).kmPerDay).toBeCloseTo(100, 6)
  })

  test('is surer of a vehicle that has always driven alike than of one that has not', () => {
    const even = odometerOf(steady(60, AS_OF, 990, 30))
    let km = 0
    const uneven = odometerOf(
      Array.from({ length: 34 }, (_, i): Reading => {
        km += i % 8 < 4 ? 900 : 3600
        return [10 + 30 * i, km]
      }),
    )
    const surer = usageRate(even, AS_OF, CLASS).logSd
    expect(usageRate(uneven, AS_OF, CLASS).logSd).toBeGreaterThan(1.5 * surer)
  })

  test('leans on the class the more, the shorter its own record', () => {
    const long = usageRate(odometerOf(steady(150, AS_OF, 165)), AS_OF, CLASS)
    const short = usageRate(odometerOf(steady(150, AS_OF, 45)), AS_OF, CLASS)
    expect(short.kmPerDay).toBeLessThan(long.kmPerDay)
    expect(short.kmPerDay).toBeGreaterThan(60)
    expect(short.logSd).toBeGreaterThan(long.logSd)
  })

  test('falls back to the mean of its life where the last 180 days say too little', () => {
    const stale = odometerOf(steady(100, AS_OF - 200, 300))
    const usage = usageRate(stale, AS_OF, CLASS, { stock: true })
    expect(usage.basis).toBe('life')
    expect(usage.kmPerDay).toBeCloseTo(100, 6)
    const fresh = usageRate(odometerOf(steady(100, AS_OF, 300)), AS_OF, CLASS, { stock: true })
    expect(usage.logSd).toBeGreaterThan(fresh.logSd)
    // One reading and the day at 0 km make a life too.
    const sold = usageRate(odometerOf([[900, 45_000]], { inServiceOn: 0 }), AS_OF, CLASS, { stock: true })
    expect(sold).toMatchObject({ basis: 'life', standing: false })
    expect(sold.kmPerDay).toBeCloseTo(50, 6)
  })

  test('is that of its class where nothing else is known', () => {
    const usage = usageRate(odometerOf([]), AS_OF, CLASS)
    expect(usage).toMatchObject({ basis: 'class', standing: false })
    expect(usage.kmPerDay).toBeCloseTo(60, 9)
    expect(usage.logSd).toBeGreaterThan(CLASS.betweenLogSd)
  })

  test('looks at nothing after the day asked for', () => {
    const readings = steady(50, AS_OF, 600)
    const later = steady(50, AS_OF, 600).map(([day, km]): Reading => [day + 620, km + 31_000])
    expect(usageRate(odometerOf([...readings, ...later]), AS_OF, CLASS)).toEqual(
      usageRate(odometerOf(readings), AS_OF, CLASS),
    )
  })

  test('one wild reading that nobody noticed hardly moves it', () => {
    const readings = steady(60, AS_OF, 165)
    const withSlip: Reading[] = [...readings.slice(1), [AS_OF, 100_000 + 60 * 165 + 9_000]]
    const clean = usageRate(odometerOf(readings), AS_OF, CLASS).kmPerDay
    expect(usageRate(odometerOf(withSlip), AS_OF, CLASS).kmPerDay / clean).toBeLessThan(1.15)
  })

  test('is finite and not negative, whatever the readings', () => {
    const reading = fc.tuple(fc.integer({ min: 0, max: AS_OF }), fc.integer({ min: 0, max: 300_000 }))
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 40 }), fc.boolean(), (readings, stock) => {
        const { kmPerDay, logSd, standing } = usageRate(odometerOf(readings), AS_OF, CLASS, { stock })
        expect(kmPerDay >= 0 && Number.isFinite(kmPerDay)).toBe(true)
        expect(logSd >= 0 && Number.isFinite(logSd)).toBe(true)
        expect(kmPerDay === 0).toBe(standing)
      }),
    )
  })
})

describe('a vehicle stands', () => {
  const standing = (recent: Reading[]) =>
    usageRate(odometerOf([...steady(60, AS_OF - 100, 300), ...recent]), AS_OF, CLASS).standing

  test('when the trusted readings of the last 60 days span less than 30 km', () => {
    expect(standing([[950, 130_000], [990, 130_029]])).toBe(true) // biome-ignore format: pairs of one odometer read in one line
    expect(standing([[950, 130_000], [990, 130_030]])).toBe(false) // biome-ignore format: pairs of one odometer read in one line
  })

  test('not when there is one such reading, or none, or two of one week', () => {
    expect(standing([])).toBe(false)
    expect(standing([[990, 130_000]])).toBe(false)
    expect(standing([[985, 130_000], [990, 130_010]])).toBe(false) // biome-ignore format: pairs of one odometer read in one line
  })

  test('not when it stood earlier and has moved since', () => {
    expect(standing([[905, 130_000], [935, 130_000], [990, 130_900]])).toBe(false) // biome-ignore format: pairs of one odometer read in one line
  })
})

describe('classRates', () => {
  const fleet = (count: number, kmPerDay: number, vehicle: Partial<VehicleRow> = {}) =>
    Array.from({ length: count }, (_, i) => {
      const rate = kmPerDay * Math.exp(0.3 * (i - (count - 1) / 2))
      const records = recordsOf(steady(rate, AS_OF, 165), { vehicle })
      return { vehicle: records.vehicle, odometer: odometerOf(steady(rate, AS_OF, 165)) }
    })

  test('gives each class of family and duty its own centre', () => {
    const short = fleet(7, 20, { duty: 'short' })
    const long = fleet(7, 300, { duty: 'long' })
    const rateOf = ratesOf([...short, ...long], AS_OF)
    expect(rateOf({ family: 'plover-22', duty: 'short' }).logKmPerDay).toBeCloseTo(Math.log(20), 1)
    expect(rateOf({ family: 'plover-22', duty: 'long' }).logKmPerDay).toBeCloseTo(Math.log(300), 1)
    expect(rateOf({ family: 'plover-22', duty: 'long' }).betweenLogSd).toBeGreaterThan(0.3)
  })

  test('lets the whole fleet answer for a class of few, and 40 km a day for a fleet of few', () => {
    const rateOf = ratesOf([...fleet(9, 100), ...fleet(2, 10, { duty: 'short' })], AS_OF)
    expect(rateOf({ family: 'plover-22', duty: 'short' })).toEqual(
      rateOf({ family: 'knot-20', duty: 'long' }),
    )
    expect(ratesOf(fleet(4, 100), AS_OF)({ family: 'plover-22', duty: 'mixed' })).toEqual({
      logKmPerDay: Math.log(ODOMETER_SETTINGS.fallbackKmPerDay),
      betweenLogSd: 0.7,
      forecastLogSd: 0.35,
    })
  })

  test('leaves out what stands and what is in stock', () => {
    const stock = fleet(9, 500, { status: 'stock' })
    const parked = fleet(9, 0)
    const rateOf = ratesOf([...fleet(7, 80), ...stock, ...parked], AS_OF)
    expect(Math.exp(rateOf({ family: 'plover-22', duty: 'mixed' }).logKmPerDay)).toBeCloseTo(80, 0)
  })

  test('are rounded to a hundredth, so that one reading seldom moves a class', () => {
    const { logKmPerDay, betweenLogSd, forecastLogSd } = ratesOf(
      fleet(9, 100),
      AS_OF,
    )({ family: 'plover-22', duty: 'mixed' })
    for (const value of [logKmPerDay, betweenLogSd, forecastLogSd])
      expect(Math.round(100 * value) / 100).toBe(value)
  })

  test('one vehicle that does ten times the distance does not move the centre', () => {
    const with1 = ratesOf([...fleet(9, 80), ...fleet(1, 800)], AS_OF)({ family: 'plover-22', duty: 'mixed' })
    expect(Math.exp(with1.logKmPerDay)).toBeLessThan(100)
  })
})

describe('the stated uncertainty covers what vehicles then do', () => {
  type Habit = { stretchSd: number; persistence: number }

  /** Daily distances: a level of its own, 30-day stretches about it that may persist, and days about those. */
  function drive({ normal }: ReturnType<typeof randomFrom>, days: number, habit: Habit): Float64Array {
    const level = Math.log(60) + 0.5 * normal()
    let stretch = habit.stretchSd * normal()
    const km = new Float64Array(days + 1)
    for (let day = 1; day <= days; day++) {
      if (day % 30 === 0) {
        const fresh = Math.sqrt(1 - habit.persistence ** 2) * habit.stretchSd * normal()
        stretch = habit.persistence * stretch + fresh
      }
      km[day] = (km[day - 1] ?? 0) + Math.exp(level + stretch + 0.5 * normal())
    }
    return km
  }

  /** Share of vehicles whose distance over the next 90 days lies within ± z standard deviations of the median. */
  function coverage(habit: Habit, gapDays: number): { in80: number; in95: number } {
    const random = randomFrom(7)
    const asOf = 730
    const fleet = Array.from({ length: 400 }, () => {
      const km = drive(random, asOf + 90, habit)
      const readings: Reading[] = []
      for (let day = Math.floor(random.uniform() * gapDays); day <= asOf; ) {
        readings.push([day, Math.round(km[day] ?? 0)])
        day += Math.max(1, Math.round(gapDays * (0.5 + random.uniform())))
      }
      const records = recordsOf(readings, { vehicle: { inServiceOn: 0 } })
      const odometer = trustOdometer(records, { capKmPerDay: 1500, upTo: asOf })
      return { vehicle: records.vehicle, odometer, came: ((km[asOf + 90] ?? 0) - (km[asOf] ?? 0)) / 90 }
    })
    const rateOf = ratesOf(fleet, asOf)
    const errors = fleet.map(({ vehicle, odometer, came }) => {
      const { kmPerDay, logSd } = usageRate(odometer, asOf, rateOf(vehicle))
      return Math.abs(Math.log(came / kmPerDay)) / logSd
    })
    const share = (z: number) => errors.filter((error) => error < z).length / errors.length
    return { in80: share(1.2816), in95: share(1.96) }
  }

  // Of 400 vehicles the share inside an honest 80 % interval has a standard error of 0.02.
  test.each([
    ['hardly varies', { stretchSd: 0.1, persistence: 0 }, 7],
    ['varies from month to month', { stretchSd: 0.3, persistence: 0 }, 30],
    ['keeps its habits for months', { stretchSd: 0.3, persistence: 0.6 }, 30],
    ['drifts for years', { stretchSd: 0.25, persistence: 0.95 }, 30],
    ['is erratic', { stretchSd: 0.6, persistence: 0.3 }, 7],
    ['is seldom read', { stretchSd: 0.3, persistence: 0.6 }, 100],
  ])('a fleet that %s', (_, habit, gapDays) => {
    const { in80, in95 } = coverage(habit, gapDays)
    expect(in80).toBeGreaterThan(0.74)
    expect(in80).toBeLessThan(0.86)
    expect(in95).toBeGreaterThan(0.91)
  })
})

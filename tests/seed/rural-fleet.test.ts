import { describe, expect, test } from 'vitest'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { KM_PER_MILE } from '@/lib/units/distances'
import { TODAY, takeIn } from './take-in'

/** Each story is looked for in the records as taken in, as a person would look for it. */
const { records, library } = takeIn('tussock-and-sedge', TODAY)
const all = groupByVehicle(records)
const current = all.filter(({ vehicle }) => vehicle.status === 'active')
const familyOf = ({ vehicle }: VehicleRecords) => library.families.find((f) => f.key === vehicle.family)
const count = (tells: (v: VehicleRecords) => boolean, among = all) => among.filter(tells).length

/** Readings that disagree with both neighbours while those agree with each other. */
function oddReadings({ readings }: VehicleRecords): { km: number; between: number }[] {
  return readings.flatMap((reading, i) => {
    const [before, after] = [readings[i - 1], readings[i + 1]]
    if (!before || !after || after.odometerKm < before.odometerKm) return []
    const outside = reading.odometerKm < before.odometerKm || reading.odometerKm > after.odometerKm
    return outside ? [{ km: reading.odometerKm, between: (before.odometerKm + after.odometerKm) / 2 }] : []
  })
}

describe('signs and repairs', () => {
  test('a misfire comes back on the same cylinder after its plug and its coil were renewed', () => {
    const returned = ({ codes, repairs }: VehicleRecords) =>
      codes.some(({ code, seenOn }) => {
        const position = Number(/^P030([1-4])$/.exec(code)?.[1])
        const renewed = (weakPoint: string) =>
          repairs.some(
            (r) =>
              r.weakPoint === weakPoint &&
              r.positions.includes(position) &&
              seenOn - r.doneOn > 0 &&
              seenOn - r.doneOn < 120,
          )
        const before = codes.some((c) => c.code === code && seenOn - c.seenOn > 20 && seenOn - c.seenOn < 120)
        return TODAY - seenOn < 30 && before && renewed('spark-plug') && renewed('ignition-coil')
      })
    expect(count(returned, current)).toBeGreaterThanOrEqual(2)
  })

  test('quick fixes have failed again', () => {
    const again = ({ repairs }: VehicleRecords) =>
      repairs.some(
        (fix) =>
          fix.action === 'temporary' &&
          repairs.some(
            (r) =>
              r.weakPoint === fix.weakPoint &&
              r.doneOn > fix.doneOn &&
              (r.found === 'failed' || r.found === 'developing'),
          ),
      )
    expect(count(again)).toBeGreaterThanOrEqual(5)
  })

  test('nobody has read a lamp that a driver or a tracker has told of', () => {
    const unread = ({ checks }: VehicleRecords) =>
      checks.some(
        (c) =>
          c.seen.some((s) => s.sign === 'lamp-on') &&
          !checks.some((s) => s.kind === 'scan' && s.checkedOn >= c.checkedOn),
      )
    expect(count(unread, current)).toBeGreaterThanOrEqual(1)
    expect(
      records.checks.filter((c) => c.kind === 'report' && c.seen.some((s) => s.sign === 'lamp-on')).length,
    ).toBeGreaterThan(20)
    expect(
      records.checks.filter((c) => c.kind === 'lamp' && c.seen.some((s) => s.sign === 'lamp-on')).length,
    ).toBeGreaterThan(20)
  })

  test('scans soon after codes were cleared say how far ago that was', () => {
    const soon = records.checks.filter(
      (c) => c.kind === 'scan' && c.kmSinceCleared !== null && c.kmSinceCleared < 160,
    )
    expect(soon.length).toBeGreaterThan(50)
  })

  test('vehicles run with scheduled renewals overdue', () => {
    const overdue = (v: VehicleRecords) =>
      v.vehicle.history === 'full' &&
      (familyOf(v)?.weakPoints ?? []).some((w) => {
        if (w.renewEvery === null) return false
        const done = v.repairs
          .filter((r) => r.weakPoint === w.key && r.action === 'renew')
          .map((r) => r.odometerKm ?? 0)
        const km = v.readings.at(-1)?.odometerKm ?? 0
        return km - Math.max(0, ...done) > 1.05 * w.renewEvery
      })
    expect(count(overdue, current)).toBeGreaterThanOrEqual(2)
  })
})

describe('odometers, hours and changes', () => {
  test('some readings were typed in miles, some with a digit too many or two exchanged', () => {
    const odd = all.flatMap(oddReadings)
    const near = (a: number, b: number, share: number) => Math.abs(a / b - 1) < share
    expect(odd.filter((o) => near(o.km * KM_PER_MILE, o.between, 0.03)).length).toBeGreaterThanOrEqual(3)
    expect(odd.filter((o) => near(o.km, 10 * o.between, 0.05)).length).toBeGreaterThanOrEqual(1)
    const digits = (km: number) => [...String(km)].sort().join('')
    const exchanged = all.flatMap(({ readings }) =>
      readings.filter((r, i) => {
        const before = readings[i - 1]
        return (
          before !== undefined &&
          readings[i + 1] !== undefined &&
          r.odometerKm < before.odometerKm &&
          digits(r.odometerKm).length === digits(before.odometerKm).length
        )
      }),
    )
    expect(exchanged.length).toBeGreaterThanOrEqual(3)
  })

  test('engine hours are known for part of the trucks and part of their time', () => {
    const trucks = all.filter(({ vehicle }) => vehicle.family === 'knot-82')
    const withHours = trucks.filter(({ readings }) => readings.some((r) => r.engineHours !== null))
    expect(withHours.length).toBeGreaterThan(10)
    expect(withHours.length).toBeLessThan(trucks.length)
    expect(withHours.some(({ readings }) => readings.some((r) => r.engineHours === null))).toBe(true)
  })

  test('engines and an instrument were exchanged, and months of papers are lost', () => {
    const kinds = new Set(records.changes.map((c) => c.kind))
    expect([...kinds]).toEqual(
      expect.arrayContaining(['engine-used', 'engine-rebuilt', 'cluster', 'gap-from', 'gap-to']),
    )
  })
})

describe('who is in the fleet', () => {
  test('half have a tracker that reports weekly, the others are read monthly', () => {
    const share =
      count(({ readings }) => readings.some((r) => r.source === 'tracker'), current) / current.length
    expect(share).toBeGreaterThan(0.42)
    expect(share).toBeLessThan(0.58)
  })

  test('many were bought with a history that nobody knows', () => {
    expect(
      count(({ vehicle }) => vehicle.history === 'none' && vehicle.acquiredFrom === 'auction'),
    ).toBeGreaterThan(50)
  })
})

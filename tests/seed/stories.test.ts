import { describe, expect, test } from 'vitest'
import { isScored, scoreFleet, type VehicleScore } from '@/lib/decisions/score-fleet'
import type { Family } from '@/lib/records/library'
import { LAMP_ON, type Records } from '@/lib/records/rows'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { ORGANISATIONS, TODAY, takeIn } from './take-in'

/**
 * The stories that every organisation tells, each looked for in the rows as a person would look for it; then what the
 * score says of the vehicles that tell it.
 */
type Told = { unit: string; weakPoint?: string; position?: number }
type Story = (vehicle: VehicleRecords, family: Family) => Omit<Told, 'unit'> | undefined

type Sighting = { sign: string; position: number | null; on: Day; by: string }

/** Every sign that was seen, whether as a code or in a look, in the order of time. */
function sightings({ codes, checks }: VehicleRecords, family: Family): Sighting[] {
  const read = codes.flatMap(({ code, seenOn }) =>
    family.signs.flatMap((sign) => {
      const pattern = sign.codes.find((each) => new RegExp(`^${each.replace('#', '\\d')}$`).test(code))
      const position = pattern?.includes('#') ? Number(code[pattern.indexOf('#')]) : null
      return pattern ? [{ sign: sign.key, position, on: seenOn, by: 'code' }] : []
    }),
  )
  const looked = checks.flatMap(({ seen, checkedOn, kind }) =>
    seen.map(({ sign, position }) => ({ sign, position, on: checkedOn, by: kind })),
  )
  return [...read, ...looked].sort((a, b) => a.on - b.on)
}

const causesOf = (family: Family, sign: string): string[] =>
  family.signs.find((s) => s.key === sign)?.causes.map((c) => c.weakPoint) ?? []

const workedOn = ({ repairs }: VehicleRecords, points: string[], from: Day, until = TODAY): boolean =>
  repairs.some((r) => points.includes(r.weakPoint) && r.doneOn >= from && r.doneOn <= until)

/** Seen of late, and nothing done about any of its causes since. */
const openSightings = (vehicle: VehicleRecords, family: Family, days: number): Sighting[] =>
  sightings(vehicle, family).filter(
    ({ sign, on }) => TODAY - on < days && !workedOn(vehicle, causesOf(family, sign), on),
  )

const returnedMisfire: Story = (vehicle, family) => {
  const back = openSightings(vehicle, family, 30).find(
    ({ sign, position, on }) =>
      sign === 'misfire' &&
      ['spark-plug', 'ignition-coil'].every((point) =>
        vehicle.repairs.some(
          (r) => r.weakPoint === point && r.positions.includes(position ?? 0) && on - r.doneOn < 200,
        ),
      ),
  )
  return back && { weakPoint: 'injector', position: back.position ?? 0 }
}

const silentFault: Story = (vehicle, family) => {
  const silent = openSightings(vehicle, family, 40).find(
    ({ sign, by }) => by === 'scan' && family.signs.some((s) => s.key === sign && !s.lamp),
  )
  return silent && { weakPoint: causesOf(family, silent.sign)[0] }
}

const quickFixAgain: Story = (vehicle, family) => {
  const last = (point: string) => vehicle.repairs.findLast((r) => r.weakPoint === point)
  const again = openSightings(vehicle, family, 60).find(({ sign, on }) =>
    causesOf(family, sign).some((c) => last(c)?.action === 'temporary' && (last(c)?.doneOn ?? on) < on),
  )
  const point = again && causesOf(family, again.sign).find((c) => last(c)?.action === 'temporary')
  return point ? { weakPoint: point } : undefined
}

const mustNotDrive: Story = (vehicle, family) => {
  const stop = openSightings(vehicle, family, 60).find(({ sign }) =>
    family.signs.some((s) => s.key === sign && s.stop),
  )
  return stop && {}
}

const unreadLamp: Story = ({ checks, codes }) => {
  const lamp = checks.findLast((c) => c.seen.some((s) => s.sign === LAMP_ON))
  if (!lamp || TODAY - lamp.checkedOn > 30) return undefined
  const read =
    checks.some((c) => c.kind === 'scan' && c.checkedOn >= lamp.checkedOn) ||
    codes.some((c) => c.seenOn >= lamp.checkedOn)
  return read ? undefined : {}
}

const leakAbove: Story = (vehicle, family) => {
  const leak = openSightings(vehicle, family, 60).find(({ sign }) =>
    family.upstream.some(({ from }) => causesOf(family, sign)[0] === from),
  )
  return leak && { weakPoint: causesOf(family, leak.sign)[0] }
}

const turnedBack: Story = ({ readings, vehicle: { watchedFromOn, watchedFromKm } }) =>
  readings.some((r) => r.readOn < (watchedFromOn ?? 0) && r.odometerKm > 20_000 + (watchedFromKm ?? 0))
    ? {}
    : undefined

const standing: Story = ({ readings, checks, vehicle }) => {
  const noted = [
    ...readings.map((r) => ({ ...r, on: r.readOn })),
    ...checks.map((c) => ({ ...c, on: c.checkedOn })),
  ]
  const late = noted.filter(({ on, odometerKm }) => TODAY - on <= 60 && odometerKm !== null)
  const days = late.map(({ on }) => on)
  const km = late.map(({ odometerKm }) => odometerKm ?? 0)
  const stands =
    vehicle.status !== 'sold' &&
    Math.max(...days) - Math.min(...days) >= 14 &&
    Math.max(...km) - Math.min(...km) < 30
  return stands ? {} : undefined
}

describe.each(ORGANISATIONS.map((key) => ({ key })))('$key', ({ key }) => {
  const { records, library, warnings } = takeIn(key, TODAY)
  const vehicles = groupByVehicle(records)
  const current = vehicles.filter((one) => isScored(one, odometerOf(one, TODAY), TODAY))
  const families = new Map(library.families.map((f) => [f.key, f]))

  const tellersOf = (story: Story): Told[] =>
    current.flatMap((one) => {
      const family = families.get(one.vehicle.family)
      const told = family && story(one, family)
      return told ? [{ unit: one.vehicle.unit, ...told }] : []
    })

  /** The scores of some vehicles alone: their own records, without the classes of the rest. */
  function scoresOf(told: readonly Told[]): (Told & { score: VehicleScore })[] {
    const units = new Set(told.map(({ unit }) => unit))
    const own = <Row extends { unit: string }>(rows: Row[]) => rows.filter(({ unit }) => units.has(unit))
    const some: Records = {
      vehicles: own(records.vehicles),
      readings: own(records.readings),
      codes: own(records.codes),
      checks: own(records.checks),
      repairs: own(records.repairs),
      changes: own(records.changes),
      settings: records.settings,
    }
    const scored = scoreFleet({ records: some, library, asOf: TODAY, horizons: [{ days: 90 }] }).vehicles
    return told.map((each) => ({ ...each, score: scored.find(({ unit }) => unit === each.unit)! }))
  }

  const speaks = ({ weakPoint, position = 1, score }: Told & { score: VehicleScore }): string =>
    score.components.find((c) => c.weakPoint === weakPoint && c.position === position)?.speaks ?? ''

  const anyScore = (story: Story, says: (each: Told & { score: VehicleScore }) => boolean): boolean =>
    scoresOf(tellersOf(story)).some(says)

  test('a misfire came back after plugs and coil, and the score blames what is left', () => {
    expect(
      anyScore(returnedMisfire, (each) => {
        expect(each.score.advice).toMatch(/book|check/)
        return /came back after spark plug and ignition coil/.test(speaks(each))
      }),
    ).toBe(true)
  })

  test('a fault without a lamp is known from a scan alone, and the score names it', () => {
    expect(anyScore(silentFault, (each) => each.score.advice === 'book' && / seen /.test(speaks(each)))).toBe(
      true,
    )
  })

  test('a quick fix has failed again, and the score names it', () => {
    expect(anyScore(quickFixAgain, (each) => /quick fix/.test(speaks(each)))).toBe(true)
  })

  test('one to three vehicles must not be driven, and their advice is stop', () => {
    const stopped = scoresOf(tellersOf(mustNotDrive))
    expect(stopped.length).toBeGreaterThanOrEqual(1)
    expect(stopped.length).toBeLessThanOrEqual(3)
    for (const { unit, score } of stopped) expect(score.advice, unit).toBe('stop')
  })

  test('nobody has read a lamp that was told of, and the score says since when', () => {
    const said = ({ score }: { score: VehicleScore }) =>
      score.components.some((c) => /Engine lamp on (seen|came back)/.test(c.speaks))
    expect(anyScore(unreadLamp, said)).toBe(true)
  })

  test('a leak above something that it damages has not been mended, and the score knows that it goes', () => {
    const goes = ({ weakPoint, score }: Told & { score: VehicleScore }) =>
      (score.components.find((c) => c.weakPoint === weakPoint)?.pDeveloping ?? 0) > 0.5
    expect(anyScore(leakAbove, goes)).toBe(true)
  })

  test('an odometer was turned back, as old invoices show, and they are marked', () => {
    const units = new Set(tellersOf(turnedBack).map(({ unit }) => unit))
    expect(units.size).toBeGreaterThanOrEqual(1)
    for (const one of current.filter(({ vehicle }) => units.has(vehicle.unit))) {
      const marked = odometerOf(one, TODAY).points.filter(({ cause }) => cause !== null)
      expect(marked.length, one.vehicle.unit).toBeGreaterThan(0)
    }
  })

  test('vehicles stand, and the score drives them nowhere', () => {
    const scores = scoresOf(tellersOf(standing))
    expect(scores.length).toBeGreaterThanOrEqual(1)
    for (const { unit, score } of scores) expect(score.standing, unit).toBe(true)
  })

  test('an engine that nobody has described is taken in, said and not assessed', () => {
    const unknown = current.filter(({ vehicle }) => !families.has(vehicle.family))
    expect(unknown.length).toBeGreaterThanOrEqual(3)
    expect(warnings.some(({ message }) => message.includes(unknown[0]!.vehicle.family))).toBe(true)
    for (const { score } of scoresOf(unknown.map(({ vehicle }) => ({ unit: vehicle.unit }))))
      expect(score.assessed).toBe(false)
  })
})

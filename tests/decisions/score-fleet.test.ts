import { describe, expect, it } from 'vitest'
import { type ScoreInput, scoreFleet, type VehicleScore, VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import type { Records, VehicleRow } from '@/lib/records/rows'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import {
  at,
  dayAt,
  engine,
  FIRST_DAY,
  type History,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  sign,
} from '../scoring/one-vehicle'

const library = engine(
  [point('coil', 80_000, 140_000, 3_000, { positions: 4 }), point('valve', 80_000, 140_000, 9_000)],
  [
    sign('misfire', 'code', { coil: 0.7 }, { codes: ['P030#', 'P0300'], lamp: true }),
    sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'] }),
  ],
)

function scoreOf(records: Records, asOfKm: number, more: Partial<ScoreInput> = {}, own = library) {
  const scores = scoreFleet({ records, library: own, asOf: dayAt(asOfKm), horizons: [{ days: 90 }], ...more })
  return scores.vehicles[0]
}

function componentsOf(vehicle: VehicleScore | undefined) {
  if (!vehicle) throw new Error('not scored')
  return (weakPoint: string, position = 1) => {
    const found = vehicle.components.find((c) => c.weakPoint === weakPoint && c.position === position)
    if (!found) throw new Error(`no ${weakPoint} ${position}`)
    return found
  }
}

const scoredAt = (
  asOfKm: number,
  history: History,
  own: Library = library,
  vehicle: Partial<VehicleRow> = {},
) => componentsOf(scoreOf(recordsAt(asOfKm, history, { vehicle }), asOfKm, {}, own))

describe('a sighting that names no cylinder', () => {
  const quiet = scoredAt(120_000, [])
  it.each([
    ['a code', { code: { code: 'P0300' } }],
    ['a scan', looked('scan', at('misfire'))],
  ] as const)('blames all of them alike, by %s', (_, happening) => {
    const told = scoredAt(120_000, [[120_000, happening]])
    const chances = [1, 2, 3, 4].map((position) => told('coil', position).pDeveloping)
    for (const chance of chances) expect(chance).toBeCloseTo(chances[0]!, 6)
    // One of four nearly certainly: about a quarter each.
    expect(chances[0]).toBeGreaterThan(0.2)
    expect(chances[0]).toBeLessThan(0.32)
  })

  it('leaves what does not cause it where it was', () => {
    const told = scoredAt(120_000, [[120_000, { code: { code: 'P0300' } }]])
    expect(told('valve').pDeveloping).toBeCloseTo(quiet('valve').pDeveloping, 9)
  })
})

describe('which vehicles are scored', () => {
  const isScored = (vehicle: Partial<VehicleRow>, asOfKm = 60_000) =>
    scoreOf(recordsAt(asOfKm, [], { vehicle }), asOfKm) !== undefined
  const [yesterday, today, tomorrow] = [-1, 0, 1].map((days) => dayAt(60_000) + days)

  it('active ones and stock', () => {
    expect(isScored({ status: 'active' })).toBe(true)
    expect(isScored({ status: 'stock' })).toBe(true)
  })

  it('sold ones while both the days and the distance of their cover last', () => {
    const sold = { status: 'sold', soldOn: yesterday, leftOn: yesterday } as const
    expect(isScored(sold)).toBe(false)
    expect(isScored({ ...sold, coverUntilOn: today })).toBe(true)
    expect(isScored({ ...sold, coverUntilOn: yesterday })).toBe(false)
    expect(isScored({ ...sold, coverUntilOn: tomorrow, coverUntilKm: 60_001 })).toBe(true)
    expect(isScored({ ...sold, coverUntilOn: tomorrow, coverUntilKm: 59_000 })).toBe(false)
  })

  it('not retired ones, save on a date on which they were still there', () => {
    expect(isScored({ status: 'retired', leftOn: yesterday })).toBe(false)
    expect(isScored({ status: 'retired', leftOn: tomorrow })).toBe(true)
    expect(isScored({ status: 'sold', soldOn: tomorrow })).toBe(true)
  })

  it('those that left nobody knows when until their last record', () => {
    const records = recordsAt(60_000, [[50_000, looked('scan')]], { vehicle: { status: 'retired' } })
    expect(scoreOf(records, 58_000)).toBeDefined()
    expect(scoreOf(records, 60_000)).toBeUndefined()
  })

  it('those whose engine the library does not know are shown as not assessed', () => {
    const vehicle = scoreOf(recordsAt(60_000, [], { vehicle: { family: 'dodo' } }), 60_000)
    expect(vehicle).toMatchObject({ assessed: false, components: [], odometerKm: 60_000 })
  })

  it('have one row for each position of each weak point', () => {
    const vehicle = scoreOf(recordsAt(60_000, []), 60_000)
    const rows = vehicle?.components.map((c) => `${c.weakPoint} ${c.position}`)
    expect(rows).toEqual(['coil 1', 'coil 2', 'coil 3', 'coil 4', 'valve 1'])
  })
})

describe('what was not known on the as-of date', () => {
  const eventful: History = [
    [70_000, { code: { code: 'P0303' } }],
    [70_200, repaired('coil', { positions: [3], because: 'sign', found: 'developing' })],
    [72_000, looked('scan', at('flow'))],
    [74_000, opened('valve', 'sound', { because: 'sign' })],
    [75_000, { change: { kind: 'engine-new' } }],
  ]
  const entered = (history: History, enteredOn: number): History =>
    history.map(([km, h]) => {
      if ('code' in h) return [km, { code: { ...h.code, enteredOn } }]
      if ('check' in h) return [km, { check: { ...h.check, enteredOn } }]
      if ('repair' in h) return [km, { repair: { ...h.repair, enteredOn } }]
      return [km, { change: { ...h.change, enteredOn } }]
    })

  it('does not change a score, whether dated or entered later', () => {
    const without = scoreOf(recordsAt(60_000, []), 60_000)
    expect(scoreOf(recordsAt(60_000, eventful), 60_000)).toEqual(without)
    const early = eventful.map(([km, h]) => [km - 30_000, h] as const)
    expect(scoreOf(recordsAt(60_000, entered(early, dayAt(60_000) + 1)), 60_000)).toEqual(without)
    expect(scoreOf(recordsAt(60_000, entered(early, dayAt(60_000))), 60_000)).not.toEqual(without)
  })

  it('does not move the beginning of the watch of a vehicle of unknown history', () => {
    const vehicle = { history: 'none', builtOn: null, inServiceOn: null } as const
    const records = (history: History) => recordsAt(90_000, history, { vehicle, readFromKm: 81_000 })
    const late: History = [[79_800, { check: { kind: 'road', enteredOn: dayAt(90_000) + 1 } }]]
    expect(scoreOf(records(late), 90_000)).toEqual(scoreOf(records([]), 90_000))
  })
})

describe('horizons', () => {
  const scores = scoreFleet({
    records: recordsAt(120_000, []),
    library,
    asOf: dayAt(120_000),
    horizons: [{ days: 30 }, { days: 365 }, { km: 5_000 }],
  }).vehicles[0]!

  it('give one row each, in days or in km, with one advice', () => {
    const valve = scores.components.filter((c) => c.weakPoint === 'valve')
    expect(valve.map((c) => [c.horizonDays, c.horizonKm])).toEqual([
      [30, null],
      [365, null],
      [null, 5_000],
    ])
    expect(valve[1]!.pFail).toBeGreaterThan(valve[0]!.pFail)
    expect(new Set(valve.map((c) => c.advice)).size).toBe(1)
  })

  it('combine to at least the largest and at most the sum of the chances', () => {
    scores.horizons.forEach(({ days, km, combined }) => {
      const chances = scores.components
        .filter((c) => c.horizonDays === days && c.horizonKm === km)
        .map((c) => c.pFail)
      expect(combined).toBeGreaterThan(Math.max(...chances))
      expect(combined).toBeLessThan(chances.reduce((a, p) => a + p, 0))
    })
  })
})

it('a folder without vehicles has no scores', () => {
  const records = { ...recordsAt(60_000, []), vehicles: [] }
  expect(scoreFleet({ records, library, asOf: FIRST_DAY, horizons: [{ days: 90 }] }).vehicles).toEqual([])
})

describe('chances alone', () => {
  it('are those of the scores, with the jobs that the advice would have done', () => {
    const records = recordsAt(90_000, [[89_900, looked('scan', at('flow'))]])
    const asOf = dayAt(90_000)
    const scorer = new VehicleScorer({ library, asOf, horizons: [{ days: 90 }], settings: records.settings })
    const [one] = fleetVehicles(records, asOf)
    const scored = scorer.score(one!).components
    const { components, advised } = scorer.chances(one!, { days: 90 })
    expect(components).toEqual(
      scored.map(({ weakPoint, position, pFail }) => ({ weakPoint, position, pFail })),
    )
    const jobs = scored.map(({ advice }) => advice === 'stop' || advice === 'book')
    expect(advised()).toEqual(jobs)
    expect(new Set(jobs).size).toBe(2)
  })
})

describe('looking, with the score', () => {
  it('names the likeliest to be going of the parts that leave a code and light no lamp', () => {
    const vehicle = scoreOf(recordsAt(140_000, []), 140_000)
    const valve = componentsOf(vehicle)('valve')
    expect(vehicle?.looks?.unlit).toEqual({
      weakPoint: 'valve',
      position: 1,
      pDeveloping: valve.pDeveloping,
    })
  })

  it('tells of none where every code lights the lamp', () => {
    const lit = {
      ...library,
      families: library.families.map((family) => ({
        ...family,
        signs: family.signs.map((each) => ({ ...each, lamp: true })),
      })),
    }
    expect(scoreOf(recordsAt(140_000, []), 140_000, {}, lit)?.looks?.unlit).toBeNull()
  })
})

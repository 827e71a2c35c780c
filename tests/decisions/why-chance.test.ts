/**
 * Reasons are re-computations, so every figure is held against a folder of records that says what the figure claims,
 * scored by the public way from records to scores.
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { scoreFleet, VehicleScorer } from '@/lib/decisions/score-fleet'
import {
  chanceSteps,
  effectsOn,
  latelyRecorded,
  typicalVehicle,
  type WhyComponent,
  withoutEachRecord,
  withoutRecord,
} from '@/lib/decisions/why-chance'
import type { Library } from '@/lib/records/library'
import type { ReadingRow, Records, VehicleRow } from '@/lib/records/rows'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { dayOfRecord, listRecords, type OneRecord } from '@/lib/records/vehicle-records'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { type FleetVehicle, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { runs } from '../runs'
import {
  at,
  dayAt,
  engine,
  FIRST_DAY,
  type Happening,
  type History,
  looked,
  point,
  recordsAt,
  repaired,
  type Said,
  sign,
} from '../scoring/one-vehicle'
import { readingRow, recordsOf, vehicleRow } from '../simulation/record-rows'

const library = engine(
  [
    point('coil', 80_000, 140_000, 3_000, { positions: 4 }),
    point('plug', 70_000, 120_000, 8_000, { positions: 4, duty: { short: 1.4, mixed: 1, long: 0.8 } }),
    point('injector', 120_000, 220_000, 9_000, { positions: 4 }),
    point('seep', 80_000, 140_000, 60_000),
    point('gasket', 110_000, 200_000, 6_000),
  ],
  [
    sign(
      'misfire',
      'code',
      { coil: 0.7, plug: 0.5, injector: 0.4 },
      { codes: ['P030#', 'P0300'], lamp: true },
    ),
    sign('oil', 'visual', { seep: 0.8 }),
  ],
  { upstream: [{ from: 'seep', to: 'gasket', strength: 4 }] },
)
const AT = 120_000
const TODAY = dayAt(AT)
const HORIZON = { days: 90 }

const scorerOf = (fit: FleetFit | null = null, own: Library = library) =>
  new VehicleScorer({ library: own, settings: DEFAULT_SETTINGS, asOf: TODAY, horizons: [HORIZON], fit })

const stated = scorerOf()
const STATED = { inForce: stated, stated }

/** The public way: a folder in, chances out. */
function scored(records: Records, fit: FleetFit | null = null): Map<string, number> {
  const { vehicles } = scoreFleet({ records, library, asOf: TODAY, horizons: [HORIZON], fit })
  const components = vehicles.find(({ unit }) => unit === 'T1')?.components ?? []
  return new Map(components.map(({ weakPoint, position, pFail }) => [`${weakPoint}@${position}`, pFail]))
}

function vehicleIn(records: Records): FleetVehicle {
  const found = fleetVehicles(records, TODAY).find((one) => one.records.vehicle.unit === 'T1')
  if (!found) throw new Error('no T1')
  return found
}

const stepOf = (steps: WhyComponent[], step: string): Map<string, number> =>
  new Map(
    steps.map((each) => [
      `${each.weakPoint}@${each.position}`,
      each.steps.find((taken) => taken.step === step)?.chance ?? Number.NaN,
    ]),
  )

/** Every odometer as a bare reading, in the place of the records that carried it. */
function readingsAlone(records: Records): ReadingRow[] {
  const [one] = fleetVehicles(records, TODAY)
  return listRecords(one!.records).flatMap((record) =>
    record.kind !== 'changes' && record.row.odometerKm !== null
      ? [readingRow({ unit: 'T1', readOn: dayOfRecord(record), odometerKm: record.row.odometerKm })]
      : [],
  )
}

const misfireOn = (position: number): Happening => ({ code: { code: `P030${position}` } })

const HISTORY: History = [
  [30_000, looked('visual', at('oil'))],
  [60_000, repaired('plug', { positions: [1, 2, 3, 4], because: 'schedule' })],
  [90_000, repaired('gasket', { found: 'failed', because: 'failure' })],
  [110_040, misfireOn(3)],
  [110_100, repaired('coil', { positions: [3], found: 'developing', because: 'sign' })],
  [118_020, misfireOn(3)],
  [118_020, looked('scan')],
]

describe('the steps from the library to this vehicle', () => {
  const records = recordsAt(AT, HISTORY, { vehicle: { duty: 'short' } })
  const steps = chanceSteps(vehicleIn(records), HORIZON, STATED)

  it('begin with a vehicle of its class of which only its age is known, as the library states it', () => {
    const row = vehicleRow({ unit: 'T1', family: 'plover-22', inServiceOn: FIRST_DAY, duty: 'short' })
    expect(stepOf(steps, 'library')).toEqual(scored(recordsOf({ vehicles: [row] })))
  })

  it('teach nothing where nothing was learned', () => {
    expect(stepOf(steps, 'learned')).toEqual(stepOf(steps, 'library'))
  })

  it('go on with its own clocks, its work and its signs kept back', () => {
    const ages = { ...records, readings: readingsAlone(records), codes: [], checks: [], repairs: [] }
    expect(stepOf(steps, 'ages')).toEqual(scored(ages))
    const after = { ...records, readings: readingsAlone(records), codes: [], checks: [] }
    expect(stepOf(steps, 'repairs')).toEqual(scored(after))
  })

  it('end with the score, to the last digit, and add up to it', () => {
    const shown = scored(records)
    expect(stepOf(steps, 'signs')).toEqual(shown)
    expect(shown.size).toBe(14)
    for (const { weakPoint, position, steps: taken } of steps) {
      const sum = taken.reduce((a, { change }) => a + change, 0)
      expect(Math.abs(sum - shown.get(`${weakPoint}@${position}`)!)).toBeLessThan(1e-12)
    }
  })

  it('each do what they should: age, a repair and a sign move a chance their own way', () => {
    const changeOf = (weakPoint: string, position: number, step: string) =>
      steps
        .find((each) => each.weakPoint === weakPoint && each.position === position)!
        .steps.find((taken) => taken.step === step)!.change
    // 60 km a day against the 40 of an unknown class.
    expect(changeOf('injector', 1, 'ages')).toBeGreaterThan(0)
    expect(changeOf('plug', 1, 'repairs')).toBeLessThan(0)
    expect(changeOf('injector', 3, 'signs')).toBeGreaterThan(10 * Math.abs(changeOf('injector', 1, 'signs')))
    expect(changeOf('seep', 1, 'signs')).toBeGreaterThan(0)
    // Its own sign and its renewal say nothing of a part; what was seen above it does.
    expect(changeOf('gasket', 1, 'signs')).toBeGreaterThan(0)
  })

  it('are none for an engine that the library does not know', () => {
    const unknown = recordsAt(AT, HISTORY, { vehicle: { family: 'no-such' } })
    expect(chanceSteps(vehicleIn(unknown), HORIZON, STATED)).toEqual([])
  })
})

it('a vehicle of which nothing is on record is its own typical vehicle: no step changes anything', () => {
  const row = vehicleRow({ unit: 'T1', family: 'plover-22', inServiceOn: FIRST_DAY })
  const records = recordsOf({ vehicles: [row] })
  const steps = chanceSteps(vehicleIn(records), HORIZON, STATED)
  expect(steps).toHaveLength(14)
  for (const { steps: taken } of steps) {
    expect(taken.slice(1).map(({ change }) => change)).toEqual([0, 0, 0, 0])
    expect(taken[0]!.change).toBeGreaterThan(0)
  }
})

describe('what was learned', () => {
  /** Coils that fail at half of the stated age; nothing of the other parts. */
  const fleet = recordsOf({
    vehicles: Array.from({ length: 12 }, (_, i) =>
      vehicleRow({ unit: `F${i}`, family: 'plover-22', inServiceOn: FIRST_DAY }),
    ),
    readings: Array.from({ length: 12 }, (_, i) =>
      readingRow({ unit: `F${i}`, readOn: TODAY, odometerKm: AT }),
    ),
    repairs: Array.from({ length: 12 }, (_, i) => i).flatMap((i) => {
      const failed: History = [
        [54_000 + 600 * i, repaired('coil', { positions: [1, 2, 3, 4], found: 'failed' })],
      ]
      return recordsAt(AT, failed).repairs.map((row) => ({ ...row, unit: `F${i}` }))
    }),
  })
  const fit = fitFleet({ fleet: fleetVehicles(fleet, TODAY), library, asOf: TODAY })
  const records = recordsAt(AT, HISTORY)
  const one = vehicleIn(records)
  const steps = chanceSteps(one, HORIZON, { inForce: scorerOf(fit), stated })

  it('is a step of its own, on the same typical vehicle', () => {
    const row = vehicleRow({ unit: 'T1', family: 'plover-22', inServiceOn: FIRST_DAY })
    const typical = recordsOf({ vehicles: [row] })
    expect(stepOf(steps, 'library')).toEqual(scored(typical))
    expect(stepOf(steps, 'learned')).toEqual(scored(typical, fit))
    expect(stepOf(steps, 'learned').get('coil@1')).toBeGreaterThan(stepOf(steps, 'library').get('coil@1')!)
    expect(stepOf(steps, 'signs')).toEqual(scored(records, fit))
  })

  it('gives the same digits however often, and at whatever other horizons, a score is asked for', () => {
    const horizons = [30, 180, 90, 365].map((days) => ({ days }))
    const asked = { records, library, asOf: TODAY, horizons, fit }
    const [vehicle] = scoreFleet(asked).vehicles
    const atNinety = vehicle!.components.filter(({ horizonDays }) => horizonDays === 90)
    expect(new Map(atNinety.map((each) => [`${each.weakPoint}@${each.position}`, each.pFail]))).toEqual(
      stepOf(steps, 'signs'),
    )
  })

  it('leaves out what it was not learned of', () => {
    const some = fit.families.get('plover-22')!
    const coilAlone = new Map([...some.weakPoints].filter(([key]) => key === 'coil'))
    const narrow = { ...fit, families: new Map([['plover-22', { ...some, weakPoints: coilAlone }]]) }
    const alone = chanceSteps(one, HORIZON, { inForce: scorerOf(narrow), stated })
    for (const { weakPoint, steps: taken } of alone) {
      if (weakPoint === 'coil') expect(taken[1]!.change).not.toBe(0)
      else expect(taken[1]!.change).toBe(0)
    }
  })
})

describe('a vehicle whose time before its records is not known', () => {
  const vehicle: Partial<VehicleRow> = { history: 'none', builtOn: null, inServiceOn: null }
  const records = recordsAt(AT, HISTORY.slice(3), { vehicle, readFromKm: 90_000 })
  const one = vehicleIn(records)

  it('has a typical vehicle that came in on the same day, of which as little is known', () => {
    const typical = typicalVehicle(one, TODAY).records.vehicle
    expect(typical).toMatchObject({ history: 'none', watchedFromOn: dayAt(90_000) })
    expect(typical.inServiceOn).toBeLessThan(dayAt(90_000))
    const steps = chanceSteps(one, HORIZON, STATED)
    expect(stepOf(steps, 'library')).toEqual(scored(recordsOf({ vehicles: [typical] })))
    expect(stepOf(steps, 'signs')).toEqual(scored(records))
  })
})

/** The folder without one row. */
const folderWithout = (records: Records, { kind, row }: OneRecord): Records => ({
  ...records,
  [kind]: records[kind].filter((each: object) => each !== row),
})

const chancesWithout = (one: FleetVehicle, record: OneRecord) =>
  new Map(
    stated
      .chances(withoutRecord(one, record, TODAY), HORIZON)
      .components.map(({ weakPoint, position, pFail }) => [`${weakPoint}@${position}`, pFail]),
  )

describe('the chance without one record', () => {
  it('is that of the folder without its row, whatever the row does to the others', () => {
    const records = recordsAt(AT, HISTORY)
    const one = vehicleIn(records)
    const without = [...withoutEachRecord(one, HORIZON, stated)]
    expect(without.map(({ record }) => record)).toEqual(latelyRecorded(one.records, TODAY))
    expect(new Set(without.map(({ record }) => record.kind))).toEqual(
      new Set(['readings', 'codes', 'checks', 'repairs']),
    )
    for (const { record, chances } of without)
      expect(chances).toEqual([...scored(folderWithout(records, record)).values()])
  })

  it('counts what moves it by more than a rounding, the greatest first', () => {
    const one = vehicleIn(recordsAt(AT, HISTORY))
    const without = [...withoutEachRecord(one, HORIZON, stated)]
    const { components } = stated.chances(one, HORIZON)
    const index = components.findIndex((each) => each.weakPoint === 'injector' && each.position === 3)
    const score = components[index]!.pFail
    const { telling, silent } = effectsOn(index, score, without)
    expect(telling.length + silent).toBe(without.length)
    expect(telling.length).toBeGreaterThan(1)
    expect(silent).toBeGreaterThan(5)
    const sizes = telling.map(({ change }) => Math.abs(change))
    expect(sizes).toEqual(sizes.toSorted((a, b) => b - a))
    for (const { record, chance, change } of telling) {
      expect(change).toBe(score - chance)
      expect(Math.abs(change)).toBeGreaterThan(0.01 * Math.max(chance, score))
      expect(without.find((each) => each.record === record)!.chances[index]).toBe(chance)
    }
  })

  it('covers the last two years as known on the day, and no more', () => {
    const early = [AT - 60 * 730, AT - 60 * 729] as const
    const history: History = [
      ...early.map((km) => [km, looked('scan')] as const),
      [AT - 60, { check: { kind: 'scan', enteredOn: TODAY + 1 } }],
      [AT, looked('road')],
      [AT + 60, looked('scan')],
    ]
    const { records } = vehicleIn(recordsAt(AT, history))
    const checks = latelyRecorded(records, TODAY).filter(({ kind }) => kind === 'checks')
    expect(checks.map(dayOfRecord)).toEqual([dayAt(early[1]), TODAY])
  })

  it('gives a rolled-back odometer its word back when the readings that outvote it are gone', () => {
    const records = recordsAt(AT, [])
    const wrong = readingRow({ unit: 'T1', readOn: TODAY - 5, odometerKm: 300_000 })
    const one = vehicleIn({ ...records, readings: [...records.readings, wrong] })
    const [last] = one.records.readings.filter(({ readOn }) => readOn === TODAY)
    expect(one.odometer.trusted.km.at(-1)).toBe(AT)
    const without = withoutRecord(one, { kind: 'readings', row: wrong }, TODAY)
    expect(without.odometer.points).toHaveLength(one.odometer.points.length - 1)
    expect(without.odometer.trusted).toEqual(one.odometer.trusted)
    expect(withoutRecord(one, { kind: 'readings', row: last! }, TODAY).odometer.trusted.km.at(-1)).not.toBe(
      AT,
    )
  })

  it('takes the failure that a blank finding implied away with the repair', () => {
    const records = recordsAt(AT, [[AT - 600, repaired('gasket', { because: 'failure', found: null })]])
    const one = vehicleIn(records)
    const [repair] = latelyRecorded(one.records, TODAY).filter(({ kind }) => kind === 'repairs')
    const unrepaired = chancesWithout(one, repair!).get('gasket@1')!
    expect(unrepaired).toBeGreaterThan(scored(records).get('gasket@1')!)
    expect(unrepaired).toBe(scored({ ...records, repairs: [] }).get('gasket@1'))
  })

  it('is the score itself without the second of two rows that say the same', () => {
    const twice: History = [
      [AT - 600, misfireOn(2)],
      [AT - 600, misfireOn(2)],
    ]
    const records = recordsAt(AT, twice)
    const one = vehicleIn(records)
    for (const record of latelyRecorded(one.records, TODAY).filter(({ kind }) => kind === 'codes'))
      expect(chancesWithout(one, record)).toEqual(scored(records))
  })
})

describe('plugs and coil renewed, and the misfire returns', () => {
  const again: History = [
    [AT - 3_000, misfireOn(3)],
    [AT - 2_400, repaired('coil', { positions: [3], because: 'sign' })],
    [AT - 2_400, repaired('plug', { positions: [1, 2, 3, 4], because: 'sign' })],
    [AT - 600, misfireOn(3)],
  ]
  const records = recordsAt(AT, again)
  const one = vehicleIn(records)
  const injector = chanceSteps(one, HORIZON, STATED).find(
    ({ weakPoint, position }) => weakPoint === 'injector' && position === 3,
  )!

  it('blames the injector: its signs make most of its chance, and the reason names the returned misfire', () => {
    const signs = injector.steps.at(-1)!
    expect(signs.change).toBeGreaterThan(0.75 * signs.chance)
    expect(injector.seen).toBe('misfire (3) came back after coil and plug')
  })

  it('and without the misfire that returned, or the repairs before it, there is little to blame it for', () => {
    const chance = injector.steps.at(-1)!.chance
    const without = latelyRecorded(one.records, TODAY).map((record) => ({
      record,
      chance: chancesWithout(one, record).get('injector@3')!,
    }))
    const [most] = without.toSorted((a, b) => Math.abs(b.chance - chance) - Math.abs(a.chance - chance))
    expect(most!.record.kind).toBe('codes')
    expect(dayOfRecord(most!.record)).toBe(dayAt(AT - 600))
    expect(most!.chance).toBeLessThan(chance / 2)
    for (const { record, chance: left } of without)
      if (record.kind === 'repairs') expect(left).toBeLessThan(chance)
  })
})

/** Anything that may be on record, in an order of odometers, with some of it contradictory. */
const happening: fc.Arbitrary<Happening> = fc.oneof(
  fc.integer({ min: 1, max: 4 }).map(misfireOn),
  fc.constantFrom('scan', 'visual', 'road').map((kind) => looked(kind)),
  fc.constant(looked('visual', at('oil'))),
  fc
    .record({
      weakPoint: fc.constantFrom('coil', 'plug', 'injector', 'seep', 'gasket'),
      action: fc.constantFrom('renew', 'partial', 'inspect'),
      found: fc.constantFrom(null, 'failed', 'developing', 'sound'),
      because: fc.constantFrom(null, 'failure', 'sign', 'schedule'),
      positions: fc.constantFrom<number[][]>([1], [2, 3]),
    })
    .map(({ weakPoint, ...more }) => repaired(weakPoint, more)),
  fc
    .constantFrom('engine-new', 'engine-used', 'owner', 'gap-from', 'gap-to', 'cluster')
    .map((kind) => ({ change: { kind, odometerKm: null, engineKm: null, offsetKm: null } })),
)

const histories = fc
  .array(fc.tuple(fc.integer({ min: 1_000, max: 2_000 }), happening), { maxLength: 7 })
  .map((list) => list.map(([step, each]) => [step * 60, each] as const).sort((a, b) => a[0] - b[0]))

const vehicles: fc.Arbitrary<Said> = fc.constantFrom(
  {},
  { vehicle: { duty: 'long' } },
  { vehicle: { history: 'none', builtOn: null, inServiceOn: null }, readFromKm: 60_000 },
  { vehicle: { watchedFromOn: dayAt(60_000), history: 'full' }, readFromKm: 60_000 },
)

it('whatever is on record, steps add up to the score and each record left out is a folder without it', () => {
  fc.assert(
    fc.property(histories, vehicles, fc.nat(), (history, said, which) => {
      const records = recordsAt(AT, history, said)
      const one = vehicleIn(records)
      const shown = scored(records)
      const steps = chanceSteps(one, HORIZON, STATED)
      expect(stepOf(steps, 'signs')).toEqual(shown)
      for (const { steps: taken } of steps) {
        const sum = taken.reduce((a, { change }) => a + change, 0)
        expect(Math.abs(sum - taken.at(-1)!.chance)).toBeLessThan(1e-12)
        for (const { chance } of taken) expect(chance >= 0 && chance <= 1).toBe(true)
      }
      const all = [...withoutEachRecord(one, HORIZON, stated)]
      const any = all[which % all.length]!
      for (const { record, chances } of [...all.slice(-4), any])
        expect(chances).toEqual([...scored(folderWithout(records, record)).values()])
    }),
    { numRuns: runs(25) },
  )
})

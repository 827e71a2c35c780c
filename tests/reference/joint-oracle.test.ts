import { describe, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { Family, Library } from '@/lib/records/library'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { simulatedLibrary } from '../simulation/libraries'
import { askOracle } from '../simulation/oracle'
import { readingRow } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'
import { outsideCheck } from './outside-checks'

const HORIZON_KM = 5_000
const AS_OF = [19_000, 19_500, 20_000]

const source = 'brute force over all joint states, simulated fleets (tests/simulation/oracle.ts)'
const developing = outsideCheck({
  what: 'joint belief where its hypotheses suffice: chance of developing',
  formula: 'noisy-OR filter over 2ⁿ states',
  source,
  tolerance: { absolute: 1e-6 },
})
const failing = outsideCheck({
  what: 'joint belief where its hypotheses suffice: chance of failing',
  formula: 'p(1 − keep) + (1 − p)·P(fail, sound)',
  source,
  tolerance: { absolute: 1e-6 },
})
const crowded = outsideCheck({
  what: 'joint belief of nine parts behind shared signs, hypotheses merged',
  formula: 'noisy-OR filter over 2ⁿ states',
  source,
  tolerance: { absolute: 5e-3 },
})

/** Chances of the product at central parameters and of the oracle, for every part at every as-of date. */
function pairs(library: Library, vehicles: number) {
  const world = simulateWorld({
    seed: 23,
    library,
    vehicles,
    firstDay: 18_000,
    spreadDays: 900,
    lastDay: AS_OF.at(-1)!,
    snapshots: AS_OF,
  })
  const { records, snapshots } = world
  for (const { unit, day, odometerKm } of snapshots) {
    records.readings.push(readingRow({ unit, readOn: day, odometerKm }))
  }
  const scores = AS_OF.map((asOf) => {
    return scoreFleet({ records, library, asOf, horizons: [{ km: HORIZON_KM }], spread: 'central' })
  })
  return groupByVehicle(records).flatMap((rows) => {
    const own = snapshots.filter((s) => s.unit === rows.vehicle.unit)
    const { network, truth, kmPerDay } = own[0]!
    const ahead = { km: HORIZON_KM, days: HORIZON_KM / kmPerDay }
    const asOf = own.map((s) => ({ day: s.day, odometerKm: s.odometerKm, ahead }))
    const answers = askOracle({ network, truth, rows, asOf })
    return answers.flatMap((parts, i) => {
      const scored = scores[AS_OF.indexOf(own[i]!.day)]!.vehicles.find((v) => v.unit === rows.vehicle.unit)!
      return parts.map((expected, index) => {
        const { weakPoint, position } = network.parts[index]!
        const actual = scored.components.find(
          (c) => c.weakPoint === weakPoint.key && c.position === position,
        )!
        const clock = weakPoint.clock
        return {
          id: `${rows.vehicle.unit} ${weakPoint.key} ${position} ${own[i]!.day}`,
          actual,
          expected,
          clock,
        }
      })
    })
  })
}

/** The same family with some of its weak points only. */
function partOf(library: Library, keys: string[]): Library {
  const [family] = library.families
  const kept: Family = {
    ...family!,
    weakPoints: family!.weakPoints.filter((w) => keys.includes(w.key)),
    signs: family!.signs
      .map((s) => ({ ...s, causes: s.causes.filter((c) => keys.includes(c.weakPoint)) }))
      .filter((s) => s.causes.length > 0),
    upstream: [],
  }
  return { ...library, families: [kept] }
}

describe.each([
  ['dunlin', ['chain', 'cam-phaser', 'egr-valve']],
  ['dunlin', ['turbo', 'diverter', 'boost-hose']],
  ['siskin', ['thermostat', 'water-pump', 'alternator']],
] as const)('a %s with %j alone', (name, keys) => {
  const found = pairs(partOf(simulatedLibrary(name, 'documented'), [...keys]), 60)

  it('is believed to be developing as the exact joint filter has it', () => {
    for (const { id, actual, expected } of found) {
      developing.close(actual.pDeveloping, expected.pDeveloping, `${name} ${id}`)
    }
  })

  it('has the chances of failing that the exact joint filter has', () => {
    for (const { id, actual, expected } of found) failing.close(actual.pFail, expected.pFail, `${name} ${id}`)
  })
})

describe.each(['dunlin', 'siskin'] as const)('a whole %s', (name) => {
  it('is believed to be developing nearly as the exact joint filter has it', () => {
    for (const { id, actual, expected } of pairs(simulatedLibrary(name, 'documented'), 60)) {
      crowded.close(actual.pDeveloping, expected.pDeveloping, `${name} ${id}`)
    }
  })
})

developing.done()
failing.done()
crowded.done()

import { mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { simulatedLibrary } from './libraries'
import { networkOf } from './network'
import { askOracle, type OracleAnswer } from './oracle'
import { seeded } from './random'
import { truthDrawn } from './truth'
import { stateOf } from './vehicle-life'
import { usualHabits } from './workshop'
import { failsWithin, type Snapshot, simulateWorld, type World } from './world'
import { writeFolder } from './write-folder'

const DAYS = 90
const plan = {
  seed: 11,
  firstDay: 18_000,
  spreadDays: 900,
  lastDay: 20_200,
  snapshots: [19_400, 19_800, 20_200],
}

function oracleAnswers(world: World): { snapshot: Snapshot; answers: OracleAnswer[] }[] {
  return groupByVehicle(world.records).flatMap((rows) => {
    const snapshots = world.snapshots.filter((s) => s.unit === rows.vehicle.unit)
    const [first] = snapshots
    if (!first) return []
    const asOf = snapshots.map(({ day, odometerKm, kmPerDay }) => {
      return { day, odometerKm, ahead: { km: kmPerDay * DAYS, days: DAYS } }
    })
    const answers = askOracle({ network: first.network, truth: first.truth, rows, asOf })
    return snapshots.map((snapshot, i) => ({ snapshot, answers: answers[i]! }))
  })
}

/** How far the number of events lies from its expectation, in standard errors. */
function standardErrors(forecasts: { chance: number; happened: boolean }[]): number {
  let [difference, variance] = [0, 0]
  for (const { chance, happened } of forecasts) {
    difference += (happened ? 1 : 0) - chance
    variance += chance * (1 - chance)
  }
  return difference / Math.sqrt(variance)
}

describe('the simulated world', () => {
  it('is the same again from the same seed, and another from another', () => {
    const library = simulatedLibrary('dunlin', 'documented')
    const world = (seed: number) => simulateWorld({ ...plan, seed, library, vehicles: 4 })
    expect(world(3).records).toEqual(world(3).records)
    expect(world(3).records.repairs).not.toEqual(world(4).records.repairs)
  })

  it('lets a tenth and a half of original parts show the onset by the ages that the library states', () => {
    const library = simulatedLibrary('siskin', 'documented')
    const habits = { ...usualHabits, checkEvery: {} }
    const world = simulateWorld({
      ...plan,
      library,
      habits,
      vehicles: 600,
      spreadDays: 0,
      snapshots: [18_001],
    })
    const network = networkOf(library.families[0]!)
    network.parts.forEach(({ weakPoint }, index) => {
      const onsets = world.snapshots.map((s) => s.lives[index]!.onsetAge)
      for (const [share, age] of [
        [0.1, weakPoint.onset.p10],
        [0.5, weakPoint.onset.p50],
      ] as const) {
        const before = onsets.filter((onset) => onset <= age).length
        expect(Math.abs(before - share * 600)).toBeLessThan(4 * Math.sqrt(600 * share * (1 - share)))
      }
    })
  })

  it('shows the same again at a look within 1,500 km and 30 days of the first', () => {
    const library = simulatedLibrary('knot', 'documented')
    const habits = { ...usualHabits, asCodes: 0, followUp: 0, checkEvery: { scan: 9 } }
    const { records } = simulateWorld({ ...plan, library, habits, vehicles: 60 })
    let repeats = 0
    for (const { checks, repairs } of groupByVehicle(records)) {
      const untouched = checks.filter((c) => c.checkedOn <= (repairs[0]?.doneOn ?? plan.lastDay))
      let first = untouched[0]!
      for (const check of untouched) {
        const within = check.checkedOn - first.checkedOn < 30 && check.odometerKm! - first.odometerKm! < 1500
        if (!within) first = check
        else if (check !== first) {
          repeats++
          expect(check.seen).toEqual(first.seen)
        }
      }
    }
    expect(repeats).toBeGreaterThan(1_000)
  })

  it('can be written as a data folder', () => {
    const library = simulatedLibrary('knot', 'documented')
    const { records } = simulateWorld({ ...plan, library, vehicles: 3 })
    const dir = mkdtempSync(path.join(tmpdir(), 'simulated-'))
    writeFolder(dir, records, library)
    const lines = (name: string) => readFileSync(path.join(dir, name), 'utf8').trim().split('\n')
    expect(lines('readings.csv')).toHaveLength(records.readings.length + 1)
    expect(lines('repairs.csv')[0]).toContain('unit,done_on,odometer_km,weak_point,positions,action')
    expect(lines('vehicles.csv')[1]).toMatch(/^V0001,.*knot-16/)
  })
})

describe.each(['knot', 'dunlin', 'siskin'] as const)('the oracle in the world of %s', (name) => {
  const library = simulatedLibrary(name, 'hunch')
  const truth = truthDrawn(library.families[0]!, seeded(5))
  const truths = new Map([[library.families[0]!.key, truth]])
  const answered = oracleAnswers(simulateWorld({ ...plan, library, truths, vehicles: 500 }))
  const forecasts = answered.flatMap(({ snapshot, answers }) => {
    const failing = failsWithin(snapshot, DAYS)
    return answers.map(({ pFail, pDeveloping }, i) => {
      const developing = stateOf(snapshot.lives[i]!) === 'developing'
      return { pFail, pDeveloping, developing, fails: failing[i]! }
    })
  })

  it.each([
    [0, 0.02],
    [0.02, 0.1],
    [0.1, 0.3],
    [0.3, 1],
  ])('is right about what is developing, for beliefs from %d to %d', (low, high) => {
    const chosen = forecasts.filter((f) => f.pDeveloping >= low && f.pDeveloping < high)
    expect(chosen.length).toBeGreaterThan(20)
    const stated = chosen.map((f) => ({ chance: f.pDeveloping, happened: f.developing }))
    expect(Math.abs(standardErrors(stated))).toBeLessThan(4)
  })

  it.each([
    [0, 0.02],
    [0.02, 0.1],
    [0.1, 1],
  ])('is right about what fails within 90 days, for chances from %d to %d', (low, high) => {
    const chosen = forecasts.filter((f) => f.pFail >= low && f.pFail < high)
    expect(chosen.length).toBeGreaterThan(20)
    expect(
      Math.abs(standardErrors(chosen.map((f) => ({ chance: f.pFail, happened: f.fails })))),
    ).toBeLessThan(4)
  })
})

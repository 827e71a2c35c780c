import { beforeAll, describe, expect, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { simulatedLibrary } from './libraries'
import { askLinkedPair } from './linked-pair'
import { askOracle, type OracleAnswer } from './oracle'
import { readingRow } from './record-rows'
import { stateOf } from './vehicle-life'
import { type Snapshot, simulateWorld, type World } from './world'

const AS_OF = [19_000, 19_400, 19_800]
const AHEAD_KM = 5_000

/** A cover that seeps onto a gasket, alone, with the sign that both share. */
function pairLibrary(strength: number): Library {
  const library = simulatedLibrary('knot', 'documented')
  const [family] = library.families
  const weakPoints = family!.weakPoints.filter((w) => ['cover-seep', 'pump-gasket'].includes(w.key))
  const signs = family!.signs.filter((s) => s.key === 'oil-trace')
  const upstream = [{ from: 'cover-seep', to: 'pump-gasket', strength }]
  return { ...library, families: [{ ...family!, weakPoints, signs, upstream }] }
}

function pairWorld(strength: number, vehicles: number): World {
  const library = pairLibrary(strength)
  const days = { firstDay: 17_500, spreadDays: 900, lastDay: AS_OF.at(-1)!, snapshots: AS_OF }
  const world = simulateWorld({ seed: 9, library, vehicles, ...days })
  for (const { unit, day, odometerKm } of world.snapshots) {
    world.records.readings.push(readingRow({ unit, readOn: day, odometerKm }))
  }
  return world
}

type Judged = { snapshot: Snapshot; exact: OracleAnswer[]; oracle: OracleAnswer[] }

function judge(world: World): Judged[] {
  return groupByVehicle(world.records).flatMap((rows) => {
    const own = world.snapshots.filter((s) => s.unit === rows.vehicle.unit)
    const { network, truth } = own[0]!
    const asOf = own.map((s) => {
      return { day: s.day, odometerKm: s.odometerKm, ahead: { km: AHEAD_KM, days: AHEAD_KM / s.kmPerDay } }
    })
    const exact = askLinkedPair(network, truth, rows, asOf)
    const oracle = askOracle({ network, truth, rows, asOf })
    return own.map((snapshot, i) => ({ snapshot, exact: exact[i]!, oracle: oracle[i]! }))
  })
}

describe('the exact filter of a linked pair', () => {
  it('is the joint filter where the link does nothing', () => {
    for (const { exact, oracle } of judge(pairWorld(1, 5))) {
      for (const part of [0, 1]) {
        expect(exact[part]!.pDeveloping).toBeCloseTo(oracle[part]!.pDeveloping, 9)
        expect(exact[part]!.pFail).toBeCloseTo(oracle[part]!.pFail, 9)
      }
    }
  })

  describe('where the link triples the ageing', () => {
    let world: World
    let judged: Judged[]
    beforeAll(() => {
      world = pairWorld(3, 50)
      judged = judge(world)
    }, 120_000)

    it.each([0, 1])('is right about how many parts %d are developing', (part) => {
      let [difference, variance] = [0, 0]
      for (const { snapshot, exact } of judged) {
        const p = exact[part]!.pDeveloping
        difference += (stateOf(snapshot.lives[part]!) === 'sound' ? 0 : 1) - p
        variance += p * (1 - p)
      }
      expect(Math.abs(difference)).toBeLessThan(4 * Math.sqrt(variance))
    })

    it('loses little to the oracle’s expected exposure', () => {
      expect(lostShare(judged, (j, part) => j.oracle[part]!.pFail)).toBeLessThan(0.03)
    })

    it('loses little to the product’s expected exposure', () => {
      const scores = AS_OF.map((asOf) => {
        const asked = { library: world.library, asOf, horizons: [{ km: AHEAD_KM }] }
        return scoreFleet({ ...asked, records: world.records, spread: 'central' })
      })
      const scored = ({ snapshot }: Judged, part: number) => {
        const fleet = scores[AS_OF.indexOf(snapshot.day)]!
        return fleet.vehicles.find((v) => v.unit === snapshot.unit)!.components[part]!.pFail
      }
      expect(lostShare(judged, scored)).toBeLessThan(0.03)
    })
  })
})

/** Squared error against the exact chance, as a share of the variance of the exact chance; the worse part. */
function lostShare(judged: Judged[], chance: (one: Judged, part: number) => number): number {
  const shares = [0, 1].map((part) => {
    const exact = judged.map((j) => j.exact[part]!.pFail)
    const mean = exact.reduce((a, b) => a + b, 0) / exact.length
    const variance = exact.reduce((sum, e) => sum + (e - mean) ** 2, 0)
    return judged.reduce((sum, j, i) => sum + (chance(j, part) - exact[i]!) ** 2, 0) / variance
  })
  return Math.max(...shares)
}

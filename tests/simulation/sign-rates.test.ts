/** Fleets whose signs are seen at other rates than the library says: whether the records give the true ones back. */
import { describe, expect, it } from 'vitest'
import type { Family, Library } from '@/lib/records/library'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { withRates } from '@/lib/scoring/sign-rates'
import { otherSigns, simulatedLibrary } from './libraries'
import { seeded } from './random'
import { simulateWorld } from './world'

const LAST_DAY = 20_200
const VEHICLES = process.env.LONG_TESTS ? 400 : 120

const logOdds = (rate: number) => Math.log(rate / (1 - rate))

/** How far rates lie from the true ones in log odds: of `detect` and of `leak`, each with its sign. */
function errors(family: Family, truth: Family) {
  const leaks = family.signs.map((sign, s) => logOdds(sign.leak) - logOdds(truth.signs[s]!.leak))
  const detects = family.signs.flatMap(({ causes }, s) =>
    causes.map(({ detect }, c) => logOdds(detect) - logOdds(truth.signs[s]!.causes[c]!.detect)),
  )
  return { leaks, detects }
}

const mean = (values: number[]) => values.reduce((sum, each) => sum + each, 0) / values.length
const meanSize = (values: number[]) => mean(values.map(Math.abs))

function learnedFrom(library: Library, stated: Library, seed: number) {
  const world = simulateWorld({
    seed,
    library,
    vehicles: VEHICLES,
    firstDay: 17_900,
    spreadDays: 1_200,
    lastDay: LAST_DAY,
    snapshots: [],
  })
  const fit = fitFleet({ fleet: fleetVehicles(world.records, LAST_DAY), library: stated, asOf: LAST_DAY })
  const [family] = stated.families
  return withRates(family!, fit.families.get(family!.key)!.signs)
}

describe('how often signs are seen', () => {
  it('is learned where the library is wrong about it', () => {
    const before = { leaks: [] as number[], detects: [] as number[] }
    const after = { leaks: [] as number[], detects: [] as number[] }
    for (const [seed, name] of (['knot', 'siskin'] as const).entries()) {
      const stated = simulatedLibrary(name, 'experience')
      const library = otherSigns(stated, seeded(seed + 2_001))
      const learned = errors(learnedFrom(library, stated, seed + 1), library.families[0]!)
      const said = errors(stated.families[0]!, library.families[0]!)
      for (const what of ['leaks', 'detects'] as const) {
        before[what].push(...said[what])
        after[what].push(...learned[what])
      }
    }
    expect(meanSize(after.detects) / meanSize(before.detects)).toBeLessThan(0.8)
    expect(meanSize(after.leaks) / meanSize(before.leaks)).toBeLessThan(0.45)
  }, 240_000)

  it('stays about what the library says where that is right, and errs to neither side', () => {
    const stated = simulatedLibrary('dunlin', 'hunch')
    const { leaks, detects } = errors(learnedFrom(stated, stated, 5), stated.families[0]!)
    expect(meanSize(detects)).toBeLessThan(0.15)
    expect(Math.abs(mean(detects))).toBeLessThan(0.1)
    expect(meanSize(leaks)).toBeLessThan(0.2)
  }, 120_000)
})

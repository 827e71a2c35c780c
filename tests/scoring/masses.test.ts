/** Laws that hold whatever is on record. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sum } from '@/lib/model/strands'
import { chanceDeveloping, chancesWithin, remainingKm } from '@/lib/scoring/score-components'
import { runs } from '../runs'
import { AS_OF_KM, anyHistory, anyLibrary, anyVehicle } from './any-history'
import { at, engine, followOne, looked, type OneVehicle, point, sign } from './one-vehicle'

const near1 = (total: number) => expect(Math.abs(total - 1)).toBeLessThan(1e-9)
const isShare = (p: number) => {
  expect(p).toBeGreaterThanOrEqual(0)
  expect(p).toBeLessThanOrEqual(1)
}

function massesSumToOne({ belief }: OneVehicle) {
  belief.beliefs.forEach((state, component) => {
    near1(sum(state.central.sound) + sum(state.central.developing))
    const nodes = state.currentNodes()
    near1(sum(nodes.sound) + sum(nodes.developing))
    for (const mass of [...nodes.sound, ...nodes.developing]) isShare(mass)
    const { joint, index } = belief.jointOf(component)
    joint.marginal(index, state.asked.sound, state.asked.developing)
    near1(sum(state.asked.sound) + sum(state.asked.developing))
  })
}

function chancesLieInTheirBands({ belief, clock }: OneVehicle) {
  for (const horizon of [{ days: 90 }, { km: 100_000 }]) {
    const { components, combined } = chancesWithin(belief, clock, horizon)
    for (const { pFail, pLow, pHigh } of components) {
      for (const p of [pFail, pLow, pHigh]) isShare(p)
      expect(pFail).toBeGreaterThanOrEqual(pLow)
      expect(pHigh).toBeGreaterThanOrEqual(pFail)
    }
    isShare(combined)
    expect(combined).toBeGreaterThanOrEqual(Math.max(...components.map((c) => c.pFail)) - 1e-12)
  }
}

function agesAndDistancesAreNumbers({ belief, clock }: OneVehicle) {
  belief.beliefs.forEach((state, component) => {
    for (const age of state.central.age) expect(age).toBeGreaterThanOrEqual(0)
    isShare(chanceDeveloping(belief, component))
    expect(remainingKm(belief, clock, component) ?? 0).toBeGreaterThanOrEqual(0)
  })
}

function chancesGrowWithTheHorizon({ belief, clock }: OneVehicle) {
  const at = (km: number) => chancesWithin(belief, clock, { km }).components.map((c) => c.pFail)
  const chances = [10, 1_000, 10_000, 100_000].map(at)
  for (let h = 1; h < chances.length; h++) {
    chances[h]!.forEach((p, c) => {
      expect(p).toBeGreaterThanOrEqual(chances[h - 1]![c]! - 1e-9)
    })
  }
}

it('after any sequence of records masses sum to 1, chances lie in their bands and grow with the horizon', () => {
  fc.assert(
    fc.property(anyHistory, anyVehicle, (history, vehicle) => {
      const one = followOne(anyLibrary, AS_OF_KM, history, { vehicle })
      massesSumToOne(one)
      chancesLieInTheirBands(one)
      agesAndDistancesAreNumbers(one)
      chancesGrowWithTheHorizon(one)
    }),
    { numRuns: runs(60), seed: 20_260_630 },
  )
})

describe('a part older than any model of it allows', () => {
  it.each([
    ['that fails without warning', 0],
    ['with the shortest warning', 30],
  ])('%s keeps its masses and its chances numbers', (_, warning) => {
    const steep = engine([point('belt', 50_000, 61_000, warning)], [sign('squeal', 'road', { belt: 0.4 })])
    for (const central of [true, false]) {
      const { belief, clock } = followOne(steep, 400_000, [[399_000, looked('road', at('squeal'))]], {
        central,
      })
      const { sound, developing } = belief.beliefs[0]!.central
      near1(sum(sound) + sum(developing))
      const chance = chancesWithin(belief, clock, { days: 90 }).components[0]!
      expect(chance.pFail).toBeGreaterThan(0.5)
      expect(chance.pFail).toBeLessThanOrEqual(1)
      expect(remainingKm(belief, clock, 0)).toBeGreaterThan(0)
    }
  })
})

import { beforeAll, describe, expect, it } from 'vitest'
import { simulatedLibrary } from './libraries'
import { seeded } from './random'
import { type Case, forecastCases, skillOf } from './skill'
import { truthDrawn } from './truth'
import { simulateWorld } from './world'

const AS_OF = [19_300, 19_700, 20_100]
const HORIZON = { days: 90 }
const measure = { loss: 'brier', against: 'oracle' } as const

describe('skill on a simulated fleet whose library is right and documented', () => {
  let cases: Case[]
  beforeAll(() => {
    const library = simulatedLibrary('dunlin', 'documented')
    const days = { firstDay: 17_900, spreadDays: 900, lastDay: AS_OF.at(-1)!, snapshots: AS_OF }
    cases = forecastCases(simulateWorld({ seed: 31, library, vehicles: 80, ...days }), HORIZON, {
      learning: false,
    })
  }, 120_000)

  it('is none for mileage alone and whole for the oracle', () => {
    expect(skillOf(cases, 'mileage', measure).skill).toBeCloseTo(0, 12)
    expect(skillOf(cases, 'oracle', measure).skill).toBeCloseTo(1, 12)
  })

  it('is at least 0.97 for the product, with and without the spread of its statement', () => {
    expect(skillOf(cases, 'stated', measure).skill).toBeGreaterThan(0.97)
    expect(skillOf(cases, 'central', measure).skill).toBeGreaterThan(0.97)
  })
})

describe('skill on a simulated fleet of which the library is only a statement', () => {
  it('is doubled by what 60 vehicles have lived through', () => {
    const library = simulatedLibrary('knot', 'experience')
    const [family] = library.families
    const truths = new Map([[family!.key, truthDrawn(family!, seeded(1_001))]])
    const days = { firstDay: 17_900, spreadDays: 1_200, lastDay: 20_200, snapshots: [20_200] }
    const world = simulateWorld({ seed: 1, library, vehicles: 60, truths, ...days })
    const cases = forecastCases(world, HORIZON, { learning: true })
    const [stated, learned] = ['stated', 'learned'].map((who) => skillOf(cases, who, measure).skill)
    expect(stated).toBeLessThan(0.5)
    expect(learned).toBeGreaterThan(0.85)
  }, 120_000)
})

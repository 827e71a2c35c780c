import { beforeAll, describe, expect, it } from 'vitest'
import { simulatedLibrary } from './libraries'
import { type Case, forecastCases, skillOf } from './skill'
import { simulateWorld } from './world'

const AS_OF = [19_300, 19_700, 20_100]
const measure = { loss: 'brier', against: 'oracle' } as const

describe('skill on a simulated fleet whose library is right and documented', () => {
  let cases: Case[]
  beforeAll(() => {
    const library = simulatedLibrary('dunlin', 'documented')
    const days = { firstDay: 17_900, spreadDays: 900, lastDay: AS_OF.at(-1)!, snapshots: AS_OF }
    cases = forecastCases(simulateWorld({ seed: 31, library, vehicles: 80, ...days }), { days: 90 })
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

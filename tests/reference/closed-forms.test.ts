import fc from 'fast-check'
import { describe, it } from 'vitest'
import { meanLife, meanLifeUpTo } from '@/lib/model/mean-life'
import { logFailureDensity, logSurvival, propagate } from '@/lib/model/two-stage'
import { outsideCheck } from './outside-checks'

const survivals = outsideCheck({
  what: 'two-stage life with β = 1, random parameters',
  formula: 'S_F = (e^(−a/δ)/η − e^(−a/η)/δ) / (1/η − 1/δ); e^(−a/η)·(1 + a/η) where δ = η',
  source: 'closed form (hypoexponential)',
  tolerance: { absolute: 1e-10 },
})
const steps = outsideCheck({
  what: 'propagation with β = 1, random parameters',
  formula: 'w_sound = (1−p)·e^(−x/η), w_dev = p·e^(−x/δ) + (1−p)·(e^(−x/η) − e^(−x/δ)) / (η/δ − 1)',
  source: 'closed form (memoryless stages)',
  tolerance: { absolute: 1e-10 },
})
const means = outsideCheck({
  what: 'mean life and mean life up to an age',
  formula: 'η·Γ(1 + 1/β) + δ for β = 1/2, 1, 2; ∫₀ᵀ S_F for β = 1',
  source: 'closed form',
  tolerance: { relative: 1e-9 },
})

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const situation = fc.record({
  eta: fc.constant(1),
  /** Away from δ = η, where the closed form itself loses its digits. */
  delta: fc.oneof(number(1e-3, 0.9), number(1.1, 10)),
  from: number(0, 10),
  length: number(0, 10),
  belief: number(0, 1),
})
/** Always as many, since the table of outside checks tells of them. */
const RUNS = { numRuns: 500, seed: 3 }

/** P(the second stage is running at x | the first began at 0). */
function secondStage(x: number, eta: number, delta: number): number {
  return (Math.exp(-x / eta) - Math.exp(-x / delta)) / eta / (1 / delta - 1 / eta)
}

describe('with β = 1', () => {
  it('survives as the closed form', () => {
    fc.assert(
      fc.property(situation, ({ eta, delta, length }) => {
        const life = { shape: 1, scale: eta, pfMean: delta }
        const expected =
          (Math.exp(-length / delta) / eta - Math.exp(-length / eta) / delta) / (1 / eta - 1 / delta)
        survivals.close(Math.exp(logSurvival(length, life)), expected, 'δ ≠ η')
        const density = secondStage(length, eta, delta) / delta
        survivals.close(Math.exp(logFailureDensity(length, life)), density, 'density')
      }),
      RUNS,
    )
  })

  it('survives as Erlang’s distribution where δ = η', () => {
    for (const age of [0, 0.01, 0.5, 1, 3, 20]) {
      const survives = Math.exp(logSurvival(age, { shape: 1, scale: 1, pfMean: 1 }))
      survivals.close(survives, Math.exp(-age) * (1 + age), 'δ = η')
    }
  })

  it('moves a belief without regard to the age', () => {
    fc.assert(
      fc.property(situation, ({ eta, delta, from, length, belief }) => {
        const after = propagate(belief, from, from + length, { shape: 1, scale: eta, pfMean: delta })
        const x = from + length - from
        const developing = belief * Math.exp(-x / delta) + (1 - belief) * secondStage(x, eta, delta)
        steps.close(after.sound, (1 - belief) * Math.exp(-x / eta), 'sound')
        steps.close(after.developing, developing, 'developing')
        steps.close(after.fails, 1 - developing - (1 - belief) * Math.exp(-x / eta), 'fails')
      }),
      RUNS,
    )
  })

  it('has the mean life of its closed form up to any age', () => {
    for (const [delta, age] of [
      [0.5, 0.2],
      [0.5, 3],
      [4, 1],
    ] as const) {
      const part = (rate: number) => -Math.expm1(-age * rate) / rate
      const expected = (part(1 / delta) - part(1) / delta) / (1 - 1 / delta)
      const life = { shape: 1, scale: 1, pfMean: delta }
      means.close(meanLifeUpTo(age, life), expected, `δ = ${delta}, up to ${age}`)
    }
  })
})

it.each([
  [0.5, 2],
  [1, 1],
  [2, Math.sqrt(Math.PI) / 2],
])('has the mean life of a Weibull with β = %d', (shape, gamma) => {
  means.close(meanLife({ shape, scale: 1_000, pfMean: 30 }), 1_000 * gamma + 30, `β = ${shape}`)
})

survivals.done()
steps.done()
means.done()

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  hazardBetween,
  logDeveloping,
  logFailureDensity,
  logSoundSurvival,
  logSurvival,
  onsetIntegrals,
  propagate,
  type TwoStage,
} from '@/lib/model/two-stage'
import { runs } from '../runs'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const logUniform = (min: number, max: number) => number(Math.log(min), Math.log(max)).map(Math.exp)

/** The domain of the model: β 0.5 to 10, δ/η 0 to 10, ages up to 20 η. */
const lives = fc.record({
  shape: logUniform(0.5, 10),
  scale: fc.constant(100_000),
  pfMean: fc.oneof(fc.constant(0), logUniform(1, 1e6)),
})
const ages = fc
  .tuple(
    logUniform(1, 2e6).map((a) => a - 1),
    logUniform(0.01, 2e6),
  )
  .map(([from, length]) => ({ from, to: Math.min(2e6, from + length) }))
const beliefs = fc.oneof(fc.constantFrom(0, 1), number(0, 1))

describe('a step of the two-stage life', () => {
  it('gives three masses that are positive and sum to 1', () => {
    fc.assert(
      fc.property(lives, ages, beliefs, (life, { from, to }, belief) => {
        const { sound, developing, fails } = propagate(belief, from, to, life)
        expect(Math.min(sound, developing, fails)).toBeGreaterThanOrEqual(0)
        expect(sound + developing + fails).toBeCloseTo(1, 10)
      }),
      { numRuns: runs(400), seed: 7 },
    )
  })

  it('does nothing over no distance', () => {
    fc.assert(
      fc.property(lives, ages, beliefs, (life, { from }, belief) => {
        expect(propagate(belief, from, from, life)).toEqual({
          sound: 1 - belief,
          developing: belief,
          fails: 0,
        })
      }),
      { numRuns: runs(100), seed: 7 },
    )
  })

  it('composes: two steps are the whole step', () => {
    fc.assert(
      fc.property(lives, ages, beliefs, number(0, 1), (life, { from, to }, belief, share) => {
        const between = from + share * (to - from)
        const first = propagate(belief, from, between, life)
        const mass = first.sound + first.developing
        fc.pre(mass > 1e-200)
        const second = propagate(first.developing / mass, between, to, life)
        const whole = propagate(belief, from, to, life)
        expect(Math.abs(mass * second.sound - whole.sound)).toBeLessThan(1e-10)
        expect(Math.abs(mass * second.developing - whole.developing)).toBeLessThan(1e-10)
        expect(Math.abs(first.fails + mass * second.fails - whole.fails)).toBeLessThan(1e-10)
      }),
      { numRuns: runs(400), seed: 7 },
    )
  })

  it('fails more over a longer distance, and more where it develops already', () => {
    fc.assert(
      fc.property(lives, ages, beliefs, number(0, 1), (life, { from, to }, belief, share) => {
        const shorter = propagate(belief, from, from + share * (to - from), life)
        const longer = propagate(belief, from, to, life)
        expect(longer.fails).toBeGreaterThanOrEqual(shorter.fails - 1e-14)
        expect(longer.sound).toBeLessThanOrEqual(shorter.sound + 1e-14)
        if (life.pfMean > 0)
          expect(propagate(1, from, to, life).fails).toBeGreaterThanOrEqual(
            propagate(0, from, to, life).fails - 1e-14,
          )
      }),
      { numRuns: runs(400), seed: 7 },
    )
  })

  it('keeps its digits over a step short against everything', () => {
    fc.assert(
      fc.property(lives, number(1e3, 2e5), (life, from) => {
        fc.pre(life.pfMean >= 100)
        const step = 1e-3
        const { developing, fails } = onsetIntegrals(from, from + step, life)
        const onset = hazardBetween(from, from + step, life)
        expect(developing / onset).toBeCloseTo(1, 4)
        expect((fails * 2 * life.pfMean) / (onset * step)).toBeCloseTo(1, 4)
      }),
      { numRuns: runs(100), seed: 7 },
    )
  })
})

describe('a life without warning', () => {
  const life: TwoStage = { shape: 2.5, scale: 100_000, pfMean: 0 }

  it('is the plain Weibull', () => {
    for (const age of [1_000, 50_000, 150_000]) {
      expect(logSurvival(age, life)).toBe(logSoundSurvival(age, life))
      expect(logDeveloping(age, life)).toBe(Number.NEGATIVE_INFINITY)
      const hazard = (2.5 / 100_000) * (age / 100_000) ** 1.5
      expect(logFailureDensity(age, life)).toBeCloseTo(Math.log(hazard) - (age / 100_000) ** 2.5, 10)
    }
  })

  it('is what a short warning tends to', () => {
    fc.assert(
      fc.property(number(0.5, 10), ages, (shape, { from, to }) => {
        const sudden = propagate(0, from, to, { shape, scale: 100_000, pfMean: 0 })
        const brief = propagate(0, from, to, { shape, scale: 100_000, pfMean: 1e-9 })
        expect(Math.abs(sudden.fails - brief.fails)).toBeLessThan(1e-6)
      }),
      { numRuns: runs(200), seed: 7 },
    )
  })
})

it('fails a part known to develop where a defect gives no warning', () => {
  const life = { shape: 2, scale: 100_000, pfMean: 0 }
  expect(propagate(1, 5_000, 5_001, life)).toEqual({ sound: 0, developing: 0, fails: 1 })
})

it('starts sound: nothing develops and nothing has failed at age 0', () => {
  const life = { shape: 0.7, scale: 100_000, pfMean: 8_000 }
  expect(logSurvival(0, life)).toBe(0)
  expect(logDeveloping(0, life)).toBe(Number.NEGATIVE_INFINITY)
})

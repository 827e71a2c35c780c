import { describe, expect, it } from 'vitest'
import { seeded } from './random'
import { drawOnset, soundChance, stepBetween } from './two-stage'

describe('the simulated world’s own two-stage mathematics', () => {
  it.each([
    [40_000, 2_000],
    [40_000, 39_000],
    [3_000, 50_000],
  ])('equals the closed form of two exponential stages (means %d and %d)', (scale, pfMean) => {
    for (const age of [10, 1_000, 30_000, 100_000]) {
      const step = stepBetween({ shape: 1, scale, pfMean }, 0, age)
      const [onset, failure] = [1 / scale, 1 / pfMean]
      const developing = (onset / (onset - failure)) * (Math.exp(-failure * age) - Math.exp(-onset * age))
      expect(step.onset).toBeCloseTo(developing, 12)
      expect(step.failSound).toBeCloseTo(1 - Math.exp(-onset * age) - developing, 12)
    }
  })

  it.each([0.5, 0.9, 1.7, 3.2, 10])('moves in two steps as in one, and loses nobody (shape %d)', (shape) => {
    const p = { shape, scale: 100_000, pfMean: 7_000 }
    const [first, second] = [stepBetween(p, 0, 30_000), stepBetween(p, 30_000, 110_000)]
    const whole = stepBetween(p, 0, 110_000)
    expect(first.stay * second.stay).toBeCloseTo(whole.stay, 12)
    expect(first.stay * second.onset + first.onset * second.keep).toBeCloseTo(whole.onset, 11)
    for (const { stay, onset, failSound } of [first, second, whole]) {
      expect(stay + onset + failSound).toBeCloseTo(1, 11)
    }
  })

  it('draws onsets of a part that is still sound from what is left of its life', () => {
    const p = { shape: 2.5, scale: 100_000, pfMean: 0 }
    const random = seeded(7)
    const count = 40_000
    let later = 0
    for (let i = 0; i < count; i++) if (drawOnset(p, 60_000, random) > 90_000) later++
    const expected = soundChance(p, 90_000) / soundChance(p, 60_000)
    expect(Math.abs(later / count - expected)).toBeLessThan(
      4 * Math.sqrt((expected * (1 - expected)) / count),
    )
  })
})

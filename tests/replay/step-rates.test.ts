import { describe, expect, it } from 'vitest'
import { StepRates } from '@/lib/replay/step-rates'

describe('a failure rate in steps', () => {
  const watched = [
    ...Array.from({ length: 1000 }, () => ({ from: 0, to: 200, failed: false })),
    ...Array.from({ length: 300 }, () => ({ from: 100, to: 200, failed: true })),
  ]
  const rates = new StepRates(watched, [100])

  it('is failures over what was watched, in each class', () => {
    // Above 100: 300 failures in 1,000 × 100 + 300 × 100, below: none in 1,000 × 100.
    expect(rates.chance(100, 101)).toBeCloseTo(-Math.expm1(-300 / 130_000), 4)
    expect(rates.chance(0, 100)).toBeLessThan(0.002)
    expect(rates.chance(0, 100)).toBeGreaterThan(0)
  })

  it('adds up over the classes that a stretch goes through', () => {
    const spared = (from: number, to: number) => 1 - rates.chance(from, to)
    expect(spared(50, 150)).toBeCloseTo(spared(50, 100) * spared(100, 150), 12)
    expect(rates.chance(70, 70)).toBe(0)
  })

  it('leans on the overall rate where little was watched', () => {
    const few = new StepRates([...watched, { from: 200, to: 201, failed: false }], [100, 200])
    const overall = 300.5 / (1000 * 200 + 300 * 100 + 1)
    expect(few.chance(200, 210)).toBeCloseTo(-Math.expm1(-10 * overall), 4)
  })

  it('is none where nothing was watched', () => {
    expect(new StepRates([], [100]).chance(0, 50)).toBe(0)
  })
})

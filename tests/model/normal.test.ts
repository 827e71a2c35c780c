import { describe, expect, it } from 'vitest'
import { normalCdf } from '@/lib/model/normal'
import { integrate } from '@/lib/model/quadrature'

describe('the normal distribution function', () => {
  it('has the textbook values (tables of the standard normal, from memory)', () => {
    expect(normalCdf(0)).toBe(0.5)
    expect(normalCdf(1.959963984540054)).toBeCloseTo(0.975, 14)
    expect(normalCdf(-1.2815515655446004)).toBeCloseTo(0.1, 14)
    expect(normalCdf(9)).toBe(1)
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0)
  })

  it('is the integral of its density, and symmetric', () => {
    for (const z of [0.1, 0.7, 1.5, 3, 6]) {
      const area = integrate((x) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI), z)
      expect(normalCdf(z)).toBeCloseTo(0.5 + area, 12)
      expect(normalCdf(z) + normalCdf(-z)).toBeCloseTo(1, 14)
    }
  })
})

import { describe, expect, it } from 'vitest'
import { normalRule } from '@/lib/model/gauss-hermite'

/** E[z^k] of a standard normal: 0 for odd k, (k−1)!! for even k. */
function normalMoment(k: number): number {
  if (k % 2 === 1) return 0
  let product = 1
  for (let odd = k - 1; odd > 1; odd -= 2) product *= odd
  return product
}

describe.each([1, 2, 3, 4, 5, 6, 7, 8, 9])('%i nodes for a standard normal', (count) => {
  const { nodes, weights } = normalRule(count)

  it('reproduce every moment up to 2n − 1', () => {
    for (let k = 0; k < 2 * count; k++) {
      const moment = nodes.reduce((sum, z, i) => sum + weights[i]! * z ** k, 0)
      const size = nodes.reduce((sum, z, i) => sum + weights[i]! * Math.abs(z) ** k, 0)
      expect(Math.abs(moment - normalMoment(k))).toBeLessThan(1e-12 * Math.max(1, size))
    }
  })

  it('are symmetrical, in order, and of positive weight', () => {
    expect(nodes).toHaveLength(count)
    expect(nodes).toEqual(nodes.toSorted((a, b) => a - b))
    for (const [i, z] of nodes.entries()) expect(z + nodes[count - 1 - i]!).toBeCloseTo(0, 12)
    expect(Math.min(...weights)).toBeGreaterThan(0)
  })
})

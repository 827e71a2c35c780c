import { describe, expect, it } from 'vitest'
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { lifeAt, statedNodes } from '@/lib/model/parameter-nodes'

const central = fromStatement({ p10: 90_000, p50: 180_000, warning: 8_000 })

/** Weighted mean and standard deviation of the logarithm of one parameter. */
function logMoments(values: Float64Array, weights: Float64Array): { mean: number; sd: number } {
  const mean = values.reduce((sum, v, k) => sum + weights[k]! * Math.log(v), 0)
  const variance = values.reduce((sum, v, k) => sum + weights[k]! * (Math.log(v) - mean) ** 2, 0)
  return { mean, sd: Math.sqrt(variance) }
}

describe.each([
  ['hunch', 45],
  ['experience', 45],
  ['documented', 27],
] as const)('a statement of grade %s', (grade, count) => {
  const spread = GRADE_SPREAD[grade]
  const nodes = statedNodes(central, spread)

  it(`becomes ${count} nodes whose weights sum to 1`, () => {
    expect(nodes.weight).toHaveLength(count)
    expect(nodes.weight.reduce((a, b) => a + b)).toBeCloseTo(1, 13)
  })

  it('keeps centre and spread of each parameter', () => {
    const parameters = [
      [nodes.scale, central.scale, spread.logScale],
      [nodes.shape, central.shape, spread.logShape],
      [nodes.pfMean, central.pfMean, spread.logPfMean],
    ] as const
    for (const [values, centre, sd] of parameters) {
      const moments = logMoments(values, nodes.weight)
      expect(moments.mean).toBeCloseTo(Math.log(centre), 11)
      expect(moments.sd).toBeCloseTo(sd, 11)
    }
  })
})

it('has one node for δ where the part gives no warning', () => {
  const nodes = statedNodes(fromStatement({ p10: 30_000, p50: 60_000, warning: 0 }), GRADE_SPREAD.documented)
  expect(nodes.weight).toHaveLength(9)
  expect(nodes.pfMean.every((delta) => delta === 0)).toBe(true)
})

it('holds the central parameters as its middle node', () => {
  const middle = lifeAt(statedNodes(central, GRADE_SPREAD.hunch), 22)
  expect(middle.scale).toBeCloseTo(central.scale, 6)
  expect(middle.shape).toBeCloseTo(central.shape, 12)
  expect(middle.pfMean).toBeCloseTo(central.pfMean, 6)
})

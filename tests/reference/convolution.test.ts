import { describe, it } from 'vitest'
import { addAmounts, chanceUpTo, nothing, quantiles } from '@/lib/model/lattice'
import reference from './convolution.json'
import { outsideCheck } from './outside-checks'

const source = 'convolution.json: exact convolution in big integers'
const exactly = outsideCheck({
  what: 'total cost: quantiles on the same lattice',
  formula: 'least c with P(total ≤ c) ≥ q, by convolution',
  source,
  tolerance: 'exact',
})
const means = outsideCheck({
  what: 'total cost: mean',
  formula: 'Σ p·c',
  source,
  tolerance: { relative: 1e-12 },
})
const chances = outsideCheck({
  what: 'total cost: P(total ≤ c)',
  formula: 'sum of the lattice up to c',
  source,
  tolerance: { absolute: 1e-12 },
})
const coarsely = outsideCheck({
  what: 'total cost: quantiles on a lattice ten times as coarse',
  formula: 'the same; off by at most half a step (5 of 10 units of 10 cents) for each component',
  source,
  tolerance: { absolute: 30 * 50 },
})

type Case = (typeof reference.cases)[number]

function totalOf({ components }: Case, step: number) {
  return components.reduce((total, outcomes) => {
    const cost = [0, ...outcomes.map(({ costCents }) => costCents)]
    const chance = outcomes.map(({ p }) => p)
    return addAmounts(total, { cost, chance: [1 - chance.reduce((a, b) => a + b, 0), ...chance] })
  }, nothing(step))
}

describe('the total cost of independent components', () => {
  it.each(reference.cases)('$id', (each) => {
    const total = totalOf(each, 10)
    means.close(total.mean, each.meanCents, each.id)
    chances.close(chanceUpTo(total, 0), each.pZero, each.id)
    for (const { cost, p } of each.cdf) chances.close(chanceUpTo(total, cost), p, each.id)
    const levels = each.quantiles.map(({ quantile }) => quantile)
    const fine = quantiles(total, levels)
    const coarse = quantiles(totalOf(each, 100), levels)
    each.quantiles.forEach(({ cost }, i) => {
      exactly.close(fine[i]!, cost, each.id)
      coarsely.close(coarse[i]!, cost, each.id)
    })
  })
})

exactly.done()
means.done()
chances.done()
coarsely.done()

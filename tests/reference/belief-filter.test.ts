import { expect, it } from 'vitest'
import { fromStatement } from '@/lib/model/elicitation'
import { findRoot } from '@/lib/model/roots'
import { propagate, type TwoStage } from '@/lib/model/two-stage'
import reference from './belief-filter.json'
import { outsideCheck } from './outside-checks'

const source = 'belief-filter.json: mpmath, exact sums over the interval of the onset'
const beliefs = outsideCheck({
  what: 'belief of one component through checks',
  formula: 'propagation (two states) and Bayes at each check',
  source,
  tolerance: { absolute: 1e-9 },
})
const chances = outsideCheck({
  what: 'chance of failing within a horizon, after checks',
  formula: 'P(fail in (a₁, a₂]) = 1 − w_sound − w_dev',
  source,
  tolerance: { absolute: 1e-9 },
})
const medians = outsideCheck({
  what: 'median remaining life',
  formula: 'P(fail in (a, a + r]) = 1/2',
  source,
  tolerance: { relative: 1e-6 },
})
const statements = outsideCheck({
  what: 'parameters from a statement',
  formula: 'β = ln(ln 2/ln(10/9))/ln(p50/p10), η = p50/(ln 2)^(1/β), δ = median/ln 2',
  source: 'belief-filter.json: mpmath, 40 digits',
  tolerance: { relative: 1e-12 },
})

type Case = (typeof reference.cases)[number]
type Check = { age: number; leak: number; detect: number; seen: boolean; pBefore: number; pAfter: number }

const isFilter = (c: Case) => c.kind === 'filter'

it.each(reference.cases.filter(isFilter))('$id', (c) => {
  const life = { shape: c.shape, scale: c.scale, pfMean: c.delta }
  let belief = c.pAtStart ?? Number.NaN
  let age = 0
  for (const check of c.checks ?? []) {
    belief = beliefAt(check.age, belief, age, life)
    beliefs.close(belief, check.pBefore, c.id)
    belief = afterCheck(belief, check)
    beliefs.close(belief, check.pAfter, c.id)
    age = check.age
  }
  const now = c.age ?? Number.NaN
  belief = beliefAt(now, belief, age, life)
  beliefs.close(belief, c.pDeveloping ?? Number.NaN, c.id)
  for (const { to, pFail } of c.horizons ?? [])
    chances.close(propagate(belief, now, to, life).fails, pFail, c.id)

  const surplus = (distance: number) => propagate(belief, now, now + distance, life).fails - 0.5
  medians.close(findRoot(surplus, 0, 20 * c.scale), c.remainingMedian ?? Number.NaN, c.id)
})

it.each(reference.cases.filter((c) => !isFilter(c)))('$id', (c) => {
  const [p10, p50, warning] = [c.p10, c.p50, c.medianWarning].map((value) => value ?? Number.NaN)
  const life = fromStatement({ p10: p10!, p50: p50!, warning: warning! })
  statements.close(life.shape, c.shape, c.id)
  statements.close(life.scale, c.scale, c.id)
  statements.close(life.pfMean, c.delta, c.id)
})

it('uses every case', () => {
  const kinds = reference.cases.map((c) => c.kind)
  expect(kinds.filter((kind) => kind === 'filter' || kind === 'elicitation')).toHaveLength(
    reference.header.cases,
  )
})

function beliefAt(to: number, belief: number, from: number, life: TwoStage): number {
  const step = propagate(belief, from, to, life)
  return step.developing / (step.sound + step.developing)
}

function afterCheck(belief: number, { leak, detect, seen }: Check): number {
  const absent = (1 - leak) * (1 - detect)
  const developing = belief * (seen ? 1 - absent : absent)
  const sound = (1 - belief) * (seen ? leak : 1 - leak)
  return developing / (developing + sound)
}

beliefs.done()
chances.done()
medians.done()
statements.done()

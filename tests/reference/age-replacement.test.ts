import { expect, it } from 'vitest'
import { type AgeReplacement, ageReplacement } from '@/lib/model/age-replacement'
import { propagate } from '@/lib/model/two-stage'
import reference from './age-replacement.json'
import { outsideCheck } from './outside-checks'

const source = 'age-replacement.json: mpmath, 30 to 50 digits'
const formula = 'h(T)·∫₀ᵀ S_F − F(T) = C_p/(C_f − C_p), g* = (C_f − C_p)·h(T*) (Barlow & Hunter 1960)'
const rates = outsideCheck({
  what: 'age replacement: cost rate g*, mean life',
  formula,
  source,
  tolerance: { relative: 1e-6 },
})
const ages = outsideCheck({
  what: 'age replacement: optimum T*',
  formula,
  source,
  tolerance: { relative: 1e-6 },
})
const stretches = outsideCheck({
  what: 'age replacement: flat stretch within 5 %',
  formula: 'g(T) = 1.05·g*; infinite where running to failure lies within it',
  source,
  tolerance: { relative: 1e-3 },
})
const existence = outsideCheck({
  what: 'age replacement: whether a finite optimum exists',
  formula: 'lim h·E[F] > C_f/(C_f − C_p)',
  source,
  tolerance: 'exact',
})
const waiting = outsideCheck({
  what: 'cost of waiting one slot',
  formula: 'P(fail before the slot)·(C_f − C_p) − g*·slot',
  source,
  tolerance: { absolute: 1e-6 },
})

function optimum(c: (typeof reference.cases)[number]): Extract<AgeReplacement, { ok: true }> {
  const answer = ageReplacement({ shape: c.shape, scale: c.scale, pfMean: c.delta }, c.cp, c.cf)
  if (!answer.ok) throw new Error(`${c.id}: ${answer.reason}`)
  return answer
}

it.each(reference.cases.filter((c) => c.finite !== undefined))('$id', (c) => {
  const answer = optimum(c)
  existence.equal(answer.finite, c.finite, c.id)
  rates.close(answer.gStar, c.gStar, c.id)
  rates.close(c.cf / answer.meanLife, c.gInfinity ?? Number.NaN, c.id)
  if (!c.finite) return
  ages.close(answer.tStar, c.tStar ?? Number.NaN, c.id)
  stretches.close(answer.flatLow, c.flatLow ?? Number.NaN, c.id)
  stretches.close(answer.flatHigh, c.flatHigh ?? Number.POSITIVE_INFINITY, c.id)
})

it.each(reference.cases.filter((c) => c.costOfWaiting !== undefined))('$id', (c) => {
  const { gStar } = optimum(c)
  const age = c.age ?? Number.NaN
  const slot = c.slot ?? Number.NaN
  const step = propagate(0, age, age + slot, { shape: c.shape, scale: c.scale, pfMean: c.delta })
  waiting.close(step.fails, c.pFail ?? Number.NaN, c.id)
  waiting.close(step.fails * (c.cf - c.cp) - gStar * slot, c.costOfWaiting ?? Number.NaN, c.id)
})

it('uses every case', () => {
  const used = reference.cases.filter((c) => c.finite !== undefined || c.costOfWaiting !== undefined)
  expect(used).toHaveLength(reference.header.cases)
})

rates.done()
ages.done()
stretches.done()
existence.done()
waiting.done()

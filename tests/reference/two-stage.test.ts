import { describe, it } from 'vitest'
import {
  logDeveloping,
  logFailureDensity,
  logPropagate,
  logSoundSurvival,
  logSum,
  logSurvival,
  propagate,
} from '@/lib/model/two-stage'
import { outsideCheck } from './outside-checks'
import reference from './two-stage.json'

const source = 'two-stage.json: mpmath, 50 digits'
const values = outsideCheck({
  what: 'two-stage life: S_U, D, S_F, f_F',
  formula: 'D(a) = ∫₀ᵃ f_U(u)·e^(−(a−u)/δ) du, S_F = S_U + D, f_F = D/δ',
  source,
  tolerance: { relative: 1e-9 },
})
const logarithms = outsideCheck({
  what: 'two-stage life: logarithms of S_U, D, S_F, f_F',
  formula: 'the same, where the values underflow',
  source,
  tolerance: { relative: 1e-9, floor: 10 },
})
const steps = outsideCheck({
  what: 'two-stage life: propagation of a belief',
  formula: 'w_sound, w_dev, p(a₂), P(fail in (a₁, a₂])',
  source,
  tolerance: { absolute: 1e-10 },
})

describe.each(reference.cases)('$id', ({ id, shape, scale, delta, points, propagation }) => {
  const life = { shape, scale, pfMean: delta }

  it.each(points)('at age $a', (point) => {
    const { a } = point
    values.close(Math.exp(logSoundSurvival(a, life)), point.SU, id)
    values.close(Math.exp(logDeveloping(a, life)), point.D, id)
    values.close(Math.exp(logSurvival(a, life)), point.SF, id)
    values.close(Math.exp(logFailureDensity(a, life)), point.fF, id)
    logarithms.close(logSoundSurvival(a, life), point.logSU, id)
    logarithms.close(logDeveloping(a, life), point.logD, id)
    logarithms.close(logSurvival(a, life), point.logSF, id)
    logarithms.close(logFailureDensity(a, life), point.logfF, id)
    const belief = Math.exp(logDeveloping(a, life) - logSurvival(a, life))
    values.close(belief, point.pDevelopingGivenNotFailed, id)
  })

  it.each(propagation)('from $a1 to $a2 with belief $p', (step) => {
    const after = propagate(step.p, step.a1, step.a2, life)
    steps.close(after.sound, step.wSound, id)
    steps.close(after.developing, step.wDev, id)
    const logAfter = logPropagate(step.p, step.a1, step.a2, life)
    const logNotFail = logSum(logAfter.sound, logAfter.developing)
    steps.close(Math.exp(logAfter.developing - logNotFail), step.pAfter, id)
    steps.close(after.fails, step.pFail, id)
    logarithms.close(Math.log(after.fails), step.logPFail, id)
    logarithms.close(logNotFail, step.logNotFail, id)
  })
})

values.done()
logarithms.done()
steps.done()

import { describe, it } from 'vitest'
import { fitLives, type LivesFit } from '@/lib/model/fit-lives'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import { lifeAt } from '@/lib/model/parameter-nodes'
import { logDeveloping, logSurvival, propagate, type TwoStage } from '@/lib/model/two-stage'
import reference from './bayes.json'
import { outsideCheck } from './outside-checks'

const POSTERIOR = { source: 'bayes.json: numpy/scipy, brute-force grid of up to 1201² or 65³ points' }
const modes = outsideCheck({
  ...POSTERIOR,
  what: 'posterior: mode',
  formula: 'max of ln likelihood − Σ ((θ − centre)/sd)²/2',
  tolerance: { absolute: 1e-4 },
})
const covariances = outsideCheck({
  ...POSTERIOR,
  what: 'posterior: covariance at the mode',
  formula: 'inverse of minus the Hessian',
  tolerance: { relative: 1e-3, floor: 1e-3 },
})
const means = outsideCheck({
  ...POSTERIOR,
  what: 'posterior: means of the logarithms, in standard deviations',
  formula: 'Σ weight·θ over adaptive Gauss–Hermite nodes (Naylor & Smith 1982)',
  tolerance: { absolute: 0.05 },
})
const spreads = outsideCheck({
  ...POSTERIOR,
  what: 'posterior: standard deviations of the logarithms',
  formula: 'the same nodes, of which three cut off a skewed tail',
  tolerance: { relative: 0.1 },
})
const predictions = outsideCheck({
  ...POSTERIOR,
  what: 'posterior: chance of failing',
  formula: 'Σ weight·P(fail in (a₁, a₂])',
  tolerance: { relative: 0.02 },
})

type Case = (typeof reference.cases)[number]

describe.each(reference.cases)('$id', (c) => {
  const fit = fitLives(c.lives.map(livedLife), statementOf(c))

  it('has its mode and covariance', () => {
    const mode = [fit.mode.scale, fit.mode.shape, fit.mode.pfMean].map(Math.log)
    namesOf(c).forEach((name, i) => {
      modes.close(mode[i]!, numberIn(c.mode, name), c.id)
    })
    c.covAtMode.forEach((row, i) => {
      row.forEach((value, j) => {
        covariances.close(fit.covariance[i]![j]!, value, c.id)
      })
    })
  })

  it('has its means and spreads', () => {
    namesOf(c).forEach((name, i) => {
      const sd = Math.sqrt(c.posteriorCov[i]![i]!)
      const { mean, spread } = momentsOf(fit, i)
      means.close(mean / sd, numberIn(c.posteriorMean, name) / sd, c.id)
      spreads.close(spread, sd, c.id)
    })
  })
})

// The prior alone of a hunch: see the check of the nodes over a hunch.
describe.each(reference.cases.filter((c) => c.lives.length > 0))('$id, learned', (c) => {
  const fit = fitLives(c.lives.map(livedLife), statementOf(c))

  it('predicts as it does', () => {
    for (const p of c.predictive) {
      const sound = 'state' in p && p.state === 'sound'
      const chance = average(fit, (life) => chanceOfFailing(life, p.a1, p.a2, sound))
      predictions.close(chance, p.pFail, c.id)
    }
  })
})

modes.done()
covariances.done()
means.done()
spreads.done()
predictions.done()

function statementOf({ priorCentre, priorSd }: Case) {
  const pfMean = 'logDelta' in priorCentre ? Math.exp(numberIn(priorCentre, 'logDelta')) : 0
  return {
    central: { scale: Math.exp(priorCentre.logEta), shape: Math.exp(priorCentre.logShape), pfMean },
    spread: {
      logScale: priorSd.logEta,
      logShape: priorSd.logShape,
      logPfMean: pfMean > 0 ? numberIn(priorSd, 'logDelta') : 0,
    },
    factors: [],
  }
}

const namesOf = (c: Case) => ['logEta', 'logShape', 'logDelta'].filter((name) => name in c.mode)

function numberIn(record: object, name: string): number {
  const value = Object.entries(record).find(([key]) => key === name)?.[1]
  if (typeof value !== 'number') throw new Error(`no number ${name}`)
  return value
}

const ENDINGS: Record<string, Exclude<LifeEnding['kind'], 'failed-since'>> = {
  failed: 'failed',
  foundDeveloping: 'developing',
  unknown: 'open',
  sound: 'sound',
}

function livedLife(life: {
  end: string
  x: number
  entry?: number
  lastSound?: number
  x1?: number
}): LivedLife {
  const { end, x, entry, lastSound, x1 } = life
  const kind = ENDINGS[end]
  return {
    startAge: 0,
    developing: 0,
    entry: entry ? { age: entry, sound: false } : null,
    looks: lastSound ? [{ age: lastSound, odds: 0 }] : [],
    ending: kind ? { kind, age: x } : { kind: 'failed-since', age: x, since: x1 ?? 0 },
    ways: knownWay(),
  }
}

function average({ nodes }: LivesFit, value: (life: TwoStage) => number): number {
  return nodes.weight.reduce((sum, weight, k) => sum + weight * value(lifeAt(nodes, k)), 0)
}

function momentsOf(fit: LivesFit, which: number): { mean: number; spread: number } {
  const log = ({ scale, shape, pfMean }: TwoStage) => Math.log([scale, shape, pfMean][which]!)
  const mean = average(fit, log)
  return { mean, spread: Math.sqrt(average(fit, (life) => (log(life) - mean) ** 2)) }
}

/** Not failed at a₁ and, without a look, developing as ages alone say; or known to be sound. */
function chanceOfFailing(life: TwoStage, a1: number, a2: number, sound: boolean): number {
  const belief = sound || life.pfMean === 0 ? 0 : Math.exp(logDeveloping(a1, life) - logSurvival(a1, life))
  return propagate(belief, a1, a2, life).fails
}

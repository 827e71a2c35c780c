import { describe, it } from 'vitest'
import { fitLives, type LivesFit } from '@/lib/model/fit-lives'
import { knownWay, type LifeEntry, type LivedLife } from '@/lib/model/lived-life'
import { livesLikelihood } from '@/lib/model/lives-likelihood'
import { outsideCheck } from './outside-checks'
import censored from './weibull-censored.json'
import interval from './weibull-interval.json'
import truncated from './weibull-left-truncated.json'

const FITS = {
  formula:
    'Σ ln f over failures + ln S over survivors + ln (S(l) − S(u)) over intervals − ln S over entries, δ = 0, flat prior',
  source: 'weibull-*.json: R 4.2.2 survival::survreg and optim; mpmath, 40 digits',
}
const logs = outsideCheck({
  ...FITS,
  what: 'Weibull fits, censored, truncated and interval-censored: ln η, ln β',
  tolerance: { absolute: 1e-6 },
})
const likelihoods = outsideCheck({
  ...FITS,
  what: 'Weibull fits, censored, truncated and interval-censored: log-likelihood',
  tolerance: { absolute: 1e-6 },
})
const covariances = outsideCheck({
  ...FITS,
  what: 'Weibull fits, censored, truncated and interval-censored: covariance of ln η, ln β',
  tolerance: { relative: 1e-4 },
})
const probes = outsideCheck({
  ...FITS,
  what: 'Weibull log-likelihood and gradient away from the peak',
  tolerance: { relative: 1e-8 },
})

/** The columns that the three files have between them. */
type Case = {
  id: string
  model?: string
  time?: number[]
  status?: number[]
  entry?: number[]
  exit?: number[]
  lower?: number[]
  upper?: (number | string)[]
  weight?: number[]
  group?: string[]
  groupLevels?: string[]
  probe?: {
    logEta: number | number[]
    logShape: number
    logLik: number
    gradLogEtaLogShape?: number[]
    grad?: number[]
  }
  fit: { logEta: number | number[]; logShape: number; logLik: number; covLogEtaLogShape: number[][] }
}

/** One scale a group at most: a scale that is linear in a covariate is no model of ours. */
const cases: Case[] = [...censored.cases, ...truncated.cases, ...interval.cases].filter(
  (c: Case) => !c.model?.startsWith('log scale linear'),
)

describe.each(cases)('$id', (c) => {
  const lives = livesOf(c)
  const groups = levelsOf(c).slice(1)
  const factors = groups.map(() => ({ log: 0, sd: Number.POSITIVE_INFINITY }))

  it('has its peak where R has it', () => {
    const fit = fitLives(lives, {
      central: { shape: 1.5, scale: greatestAge(lives), pfMean: 0 },
      spread: FLAT,
      factors,
    })
    const logEta = logScales(fit)
    const expected = [c.fit.logEta].flat()
    logEta.forEach((log, g) => {
      logs.close(log, expected[g]!, c.id)
    })
    logs.close(Math.log(fit.mode.shape), c.fit.logShape, c.id)
    likelihoods.close(fit.logLikelihood, c.fit.logLik, c.id)
    covarianceOfScales(fit).forEach((row, i) => {
      row.forEach((value, j) => {
        covariances.close(value, c.fit.covLogEtaLogShape[i]![j]!, c.id)
      })
    })
  })
})

describe('away from the peak', () => {
  const probed = cases.flatMap((c) => (c.probe && levelsOf(c).length === 1 ? [{ ...c, probe: c.probe }] : []))
  it.each(probed)('$id', (c) => {
    const { logEta, logShape, logLik, grad, gradLogEtaLogShape } = c.probe
    const { at } = livesLikelihood(livesOf(c), { warns: false, factors: 0 })
    const { value, gradient } = at([...[logEta].flat(), logShape])
    probes.close(value, logLik, c.id)
    const expected = gradLogEtaLogShape ?? grad ?? []
    expected.forEach((slope, i) => {
      probes.close(gradient[i]!, slope, c.id)
    })
  })
})

logs.done()
likelihoods.done()
covariances.done()
probes.done()

const FLAT = {
  logScale: Number.POSITIVE_INFINITY,
  logShape: Number.POSITIVE_INFINITY,
  logPfMean: Number.POSITIVE_INFINITY,
}

function levelsOf(c: Case): string[] {
  return c.groupLevels ?? [...new Set(c.group ?? ['all'])]
}

function livesOf(c: Case): LivedLife[] {
  const levels = levelsOf(c)
  const count = (c.time ?? c.exit ?? c.lower ?? []).length
  return Array.from({ length: count }, (_, i) => i).flatMap((i) => {
    const group = c.group ? levels.indexOf(c.group[i]!) : 0
    const life = { startAge: 0, developing: 0, looks: [], ways: knownWay(group > 0 ? [group - 1] : []) }
    const entry: LifeEntry | null = c.entry?.[i] ? { age: c.entry[i]!, sound: false } : null
    const ending = endingOf(c, i)
    return ending ? Array<LivedLife>(c.weight?.[i] ?? 1).fill({ ...life, entry, ending }) : []
  })
}

/** (lower, upper] says when it failed: 0 nothing below, Infinity not yet, both the same exactly. */
function endingOf(c: Case, i: number): LivedLife['ending'] | null {
  if (!c.lower || !c.upper) {
    return { kind: c.status![i] === 1 ? 'failed' : 'open', age: (c.time ?? c.exit)![i]! }
  }
  const [since, age] = [c.lower[i]!, Number(c.upper[i])]
  if (age === since) return { kind: 'failed', age }
  if (age < Number.POSITIVE_INFINITY) return { kind: 'failed-since', since, age }
  return since > 0 ? { kind: 'open', age: since } : null
}

const greatestAge = (lives: LivedLife[]) => Math.max(...lives.map((life) => life.ending.age))

/** ln η of every group: the first is the original part, the others its multiples. */
const logScales = (fit: LivesFit) =>
  [0, ...fit.factors.map((f) => f.log)].map((log) => Math.log(fit.mode.scale) + log)

/** From (ln η, ln β, ln factors) to (ln η of every group, ln β). */
function covarianceOfScales({ covariance, factors }: LivesFit): number[][] {
  const rows = [[0], ...factors.map((_, f) => [0, 2 + f]), [1]]
  const sum = (of: number[], at: (i: number) => number) => of.reduce((total, i) => total + at(i), 0)
  return rows.map((a) => rows.map((b) => sum(a, (i) => sum(b, (j) => covariance[i]![j]!))))
}

import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { brierScore } from '@/lib/replay/brier-score'
import { calibration } from '@/lib/replay/calibration'
import { concordance } from '@/lib/replay/concordance'
import { decisionCurve } from '@/lib/replay/decision-curve'
import { binned } from '@/lib/replay/forecasts'
import { gammaTails } from '@/lib/replay/inner/incomplete-gamma'
import { poissonInterval } from '@/lib/replay/poisson-interval'
import { outsideCheck } from './outside-checks'

type Murphy = {
  edges: number[]
  count: number[]
  meanForecast: (number | null)[]
  observedRate: (number | null)[]
  brier: number
  reliability: number
  resolution: number
  uncertainty: number
  withinBinVariance: number
  withinBinCovariance: number
}
type ProbabilityCase = {
  id: string
  kind: 'probability'
  p: number[]
  y: number[]
  murphyEqualWidth: Murphy
  murphyDeciles: Murphy
  murphyRoundedForecast: Murphy
  calibrationSlope: number
  calibrationInterceptWithSlope: number
  calibrationSlopeSE: number
  calibrationInLarge: number
  calibrationInLargeSE: number
  auc: number
  decisionCurve: {
    threshold: number
    truePositives: number
    falsePositives: number
    netBenefit: number
    netBenefitTreatAll: number
  }[]
}
type PoissonCase = {
  id: string
  kind: 'poisson'
  observed: number
  expected: number
  intervals: { level: number; meanLow: number; meanHigh: number }[]
  pUpper: number
  pLower: number
}
type ConcordanceCase = {
  id: string
  kind: 'concordance'
  time: number[]
  status: number[]
  risk: number[]
  concordance: number
  counts: Record<'concordant' | 'discordant' | 'tiedRisk' | 'tiedTime' | 'tiedBoth', number>
}
type Case = ProbabilityCase | PoissonCase | ConcordanceCase

const file = new URL('./validation.json', import.meta.url)
const { cases }: { cases: Case[] } = JSON.parse(readFileSync(file, 'utf8'))
const R = 'validation.json: R 4.2.2, again in numpy and scipy 1.17.1'

const intervals = outsideCheck({
  what: 'replay: exact interval of a Poisson mean',
  formula: 'quantiles of Γ(n) and Γ(n + 1) (Garwood 1936)',
  source: `${R} (poisson.test)`,
  tolerance: { relative: 1e-7 },
})
const tails = outsideCheck({
  what: 'replay: tails of a Poisson count',
  formula: 'P(N ≥ n) = P(n, μ), P(N ≤ n) = Q(n + 1, μ), regularised incomplete gamma',
  source: R,
  tolerance: { relative: 1e-7 },
})
const brier = outsideCheck({
  what: 'replay: Brier score with its five parts, and its bins',
  formula:
    'reliability − resolution + uncertainty + within-bin variance − covariance (Murphy 1973; Stephenson et al. 2008)',
  source: R,
  tolerance: { absolute: 1e-10 },
})
const slopes = outsideCheck({
  what: 'replay: calibration slope, intercept, in the large, standard errors',
  formula: 'logit P(Y = 1) = a + b·logit p (Cox 1958)',
  source: `${R} (glm)`,
  tolerance: { absolute: 1e-6 },
})
const orders = outsideCheck({
  what: 'replay: concordance under censoring',
  formula: '(concordant + tied/2)/comparable pairs (Harrell et al. 1982)',
  source: `${R} (survival::concordance)`,
  tolerance: { absolute: 1e-10 },
})
const pairs = outsideCheck({
  what: 'replay: pairs concordant, discordant, tied in risk, in time, in both',
  formula: 'counts of pairs',
  source: `${R} (survival::concordance)`,
  tolerance: 'exact',
})
const curves = outsideCheck({
  what: 'replay: net benefit by threshold',
  formula: 'TP/n − FP/n·t/(1 − t) (Vickers & Elkin 2006)',
  source: R,
  tolerance: { absolute: 1e-10 },
})

const ofKind = <Kind extends Case['kind']>(kind: Kind) =>
  cases.filter((c): c is Extract<Case, { kind: Kind }> => c.kind === kind)

test('the file holds all fourteen cases', () => {
  expect([ofKind('probability'), ofKind('poisson'), ofKind('concordance')].map((c) => c.length)).toEqual([
    3, 8, 3,
  ])
})

describe('Poisson counts', () => {
  test.each(ofKind('poisson'))('$id', ({ id, observed, expected, intervals: levels, pUpper, pLower }) => {
    for (const { level, meanLow, meanHigh } of levels) {
      const { low, high } = poissonInterval(Array(observed).fill(1), level)
      intervals.close(low, meanLow, id)
      intervals.close(high, meanHigh, id)
    }
    tails.close(observed === 0 ? 1 : gammaTails(observed, expected).below, pUpper, id)
    tails.close(gammaTails(observed + 1, expected).above, pLower, id)
  })
})

describe('forecasts of chances', () => {
  const rounded = (p: number[]) => p.map((each) => Math.round(10 * each) / 10)

  test.each(ofKind('probability'))('$id: Brier score', (c) => {
    const tables: [number[], Murphy][] = [
      [c.p, c.murphyEqualWidth],
      [c.p, c.murphyDeciles],
      [rounded(c.p), c.murphyRoundedForecast],
    ]
    for (const [chance, table] of tables) {
      const score = brierScore({ chance, outcome: c.y }, table.edges)
      if (!score) throw new Error('no score')
      brier.close(score.score, table.brier, c.id)
      brier.close(score.reliability, table.reliability, c.id)
      brier.close(score.resolution, table.resolution, c.id)
      brier.close(score.uncertainty, table.uncertainty, c.id)
      brier.close(score.withinBinVariance, table.withinBinVariance, c.id)
      brier.close(score.withinBinCovariance, table.withinBinCovariance, c.id)
      const { bins } = binned({ chance, outcome: c.y }, table.edges)
      expect(bins.map((bin) => bin.count)).toEqual(table.count)
      bins.forEach((bin, k) => {
        brier.close(bin.meanForecast ?? -1, table.meanForecast[k] ?? -1, c.id)
        brier.close(bin.observedRate ?? -1, table.observedRate[k] ?? -1, c.id)
      })
    }
  })

  test.each(ofKind('probability'))('$id: calibration', (c) => {
    const fit = calibration({ chance: c.p, outcome: c.y })
    if (!fit.ok) throw new Error(fit.reason)
    slopes.close(fit.slope, c.calibrationSlope, c.id)
    slopes.close(fit.intercept, c.calibrationInterceptWithSlope, c.id)
    slopes.close(fit.slopeSe, c.calibrationSlopeSE, c.id)
    slopes.close(fit.inLarge, c.calibrationInLarge, c.id)
    slopes.close(fit.inLargeSe, c.calibrationInLargeSE, c.id)
  })

  test.each(ofKind('probability'))('$id: decision curve', (c) => {
    const thresholds = c.decisionCurve.map(({ threshold }) => threshold)
    decisionCurve({ chance: c.p, outcome: c.y }, thresholds).forEach((point, k) => {
      const expected = c.decisionCurve[k]!
      curves.close(point.truePositives, expected.truePositives, c.id)
      curves.close(point.falsePositives, expected.falsePositives, c.id)
      curves.close(point.netBenefit, expected.netBenefit, c.id)
      curves.close(point.netBenefitAll, expected.netBenefitTreatAll, c.id)
    })
  })

  test.each(ofKind('probability'))('$id: area under the curve, as concordance at one time', (c) => {
    const time = c.y.map((y) => 1 - y)
    orders.close(concordance({ time, failed: c.y, risk: c.p }).concordance ?? -1, c.auc, c.id)
  })
})

describe('concordance', () => {
  test.each(ofKind('concordance'))('$id', (c) => {
    const found = concordance({ time: c.time, failed: c.status, risk: c.risk })
    orders.close(found.concordance ?? -1, c.concordance, c.id)
    const { concordance: _, ...counts } = found
    pairs.equal(counts, c.counts, c.id)
  })
})

intervals.done()
tails.done()
brier.done()
slopes.done()
orders.done()
pairs.done()
curves.done()

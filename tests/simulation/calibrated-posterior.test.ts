/**
 * Simulation-based calibration (Talts et al. 2018): parameters drawn from the prior, lives lived under them, and the
 * rank of the true value in the posterior. Over many replications the ranks are uniform, or the fit is wrong.
 */
import { describe, expect, it } from 'vitest'
import { cholesky } from '@/lib/model/cholesky'
import { fitLives, type LifeStatement, type LivesFit } from '@/lib/model/fit-lives'
import type { LivedLife } from '@/lib/model/lived-life'
import { livesLikelihood } from '@/lib/model/lives-likelihood'
import { liveAndWrite, WORKSHOP } from './lived-lives'
import { type Random, seeded } from './random'

const REPLICATIONS = process.env.LONG_TESTS ? 200 : 40
const BINS = process.env.LONG_TESTS ? 10 : 5
/** Of χ² with BINS − 1 degrees of freedom, exceeded once in a thousand. */
const LIMIT = process.env.LONG_TESTS ? 27.88 : 18.47
const LIVES = 120
const DRAWS = 100
/** The draws come from a normal somewhat wider than the peak. */
const WIDER = 1.3

const STATEMENT: LifeStatement = {
  central: { shape: 2.5, scale: 150_000, pfMean: 15_000 },
  spread: { logScale: 0.3, logShape: 0.25, logPfMean: 0.5 },
  factors: [],
}

describe('the posterior over replications', () => {
  it('holds the true value at every rank equally often', () => {
    for (const [name, chi] of Object.entries(chiSquares(ranks((lives) => lives)))) {
      expect(chi, name).toBeLessThan(LIMIT)
    }
  })

  it('does not where the looks are left out', () => {
    const blind = (lives: LivedLife[]) => lives.map((life) => ({ ...life, looks: [] }))
    expect(chiSquares(ranks(blind)).pfMean).toBeGreaterThan(LIMIT)
  })
})

type Ranks = Record<'scale' | 'shape' | 'pfMean', number[]>

function ranks(seenAs: (lives: LivedLife[]) => LivedLife[]): Ranks {
  const random = seeded(11)
  const found: Ranks = { scale: [], shape: [], pfMean: [] }
  for (let n = 0; n < REPLICATIONS; n++) {
    const truth = drawPrior(random)
    const [scale, shape, pfMean] = truth.map(Math.exp) as [number, number, number]
    const lives = seenAs(liveAndWrite({ scale, shape, pfMean }, WORKSHOP, LIVES, random))
    const rank = ranksOf(truth, lives, fitLives(lives, STATEMENT), random)
    found.scale.push(rank[0]!)
    found.shape.push(rank[1]!)
    found.pfMean.push(rank[2]!)
  }
  return found
}

const centre = [STATEMENT.central.scale, STATEMENT.central.shape, STATEMENT.central.pfMean].map(Math.log)
const sd = [STATEMENT.spread.logScale, STATEMENT.spread.logShape, STATEMENT.spread.logPfMean]
const drawPrior = (random: Random) => centre.map((middle, i) => middle + sd[i]! * random.normal())

/** The share of the posterior below the true value, from weighted draws about the peak. */
function ranksOf(truth: number[], lives: LivedLife[], fit: LivesFit, random: Random): number[] {
  const { at } = livesLikelihood(lives, { warns: true, factors: 0 })
  const peak = [fit.mode.scale, fit.mode.shape, fit.mode.pfMean].map(Math.log)
  const lower = cholesky(fit.covariance)!
  const logPosterior = (point: number[]) =>
    at(point).value - point.reduce((sum, x, i) => sum + ((x - centre[i]!) / sd[i]!) ** 2 / 2, 0)
  const top = logPosterior(peak)
  let total = 0
  const below = truth.map(() => 0)
  for (let draw = 0; draw < DRAWS; draw++) {
    const z = truth.map(() => random.normal())
    const point = peak.map((x, i) => x + WIDER * lower[i]!.reduce((sum, l, j) => sum + l * z[j]!, 0))
    const weight = Math.exp(logPosterior(point) - top + z.reduce((sum, x) => sum + x * x, 0) / 2)
    total += weight
    point.forEach((x, i) => {
      if (x < truth[i]!) below[i]! += weight
    })
  }
  return below.map((weight) => weight / total)
}

function chiSquares(found: Ranks): Record<keyof Ranks, number> {
  return { scale: chiSquare(found.scale), shape: chiSquare(found.shape), pfMean: chiSquare(found.pfMean) }
}

function chiSquare(shares: number[]): number {
  const expected = shares.length / BINS
  const counts = new Float64Array(BINS)
  for (const share of shares) counts[Math.min(Math.floor(share * BINS), BINS - 1)]!++
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0)
}

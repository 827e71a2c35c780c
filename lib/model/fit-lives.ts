/**
 * What lives teach: the likeliest parameters of a weak point under its author's statement, how sure they are, and
 * weighted nodes of all that remains possible.
 *
 * The priors are normal on the logarithms, about the statement; the posterior is carried by adaptive Gauss–Hermite
 * nodes (Naylor & Smith 1982).
 */
import { dot, invertPositive, type Matrix, multiply } from './cholesky'
import type { LogSpread } from './elicitation'
import type { EndingKind, LivedLife } from './lived-life'
import { type Layout, type LivesLikelihood, livesLikelihood } from './lives-likelihood'
import { type Maximum, maximise, maximiseNear, type Smooth } from './maximise'
import { correlatedNodes, lifeAt, type ParameterNodes, statedNodes } from './parameter-nodes'
import type { TwoStage } from './two-stage'

/** What is believed before any life was seen; a spread of Infinity says nothing is. */
export type LifeStatement = {
  /** Of an original part; δ = 0 where it fails without warning, and then stays 0. */
  central: TwoStage
  spread: LogSpread
  /** Revisions and variants: the logarithm of what each multiplies η by, and its standard deviation. */
  factors: readonly { log: number; sd: number }[]
}

export type LivesFit = {
  /** False where no peak was found, or none that a part's life can have: all here is then the statement's. */
  converged: boolean
  /** The likeliest parameters of an original part. */
  mode: TwoStage
  /** ν, per clock unit; 0 where every developing part was found by a sign on record. */
  noticeRate: number
  /** Standard deviations of ln η, ln β and ln δ. */
  se: LogSpread
  factors: { log: number; seLog: number }[]
  /** Of ln η, ln β, ln δ (where δ > 0), ln ν (where there is one), ln of each factor. */
  covariance: Matrix
  /** At the mode; without the priors. */
  logLikelihood: number
  /** Of an original part; the weights sum to 1. */
  nodes: ParameterNodes
  endings: Record<EndingKind, number>
  /** Findings that the life before them gave no mass, left out; findings of developing where nothing warns. */
  contradictory: number
  withoutWarning: number
}

/** Standard deviation of ln ν about ln 1/δ₀: nobody states how soon a workshop notices. */
const NOTICE_SPREAD = 1.5

/** What of a fit of nearly the same lives says where the peak of these must be. */
export type NearFit = Pick<LivesFit, 'mode' | 'noticeRate' | 'factors'>

export type FitHow = {
  /** Where to begin; left out, or where that leads to no peak: at the statement, and at what the lives say at a glance. */
  near?: NearFit | null
  /** False where the nodes need not be weighed by the true posterior, which takes a third of the time. */
  weigh?: boolean
}

/** Learns from lives, whose ages and the statement share the clock unit. Without lives it answers the statement. */
export function fitLives(
  lives: readonly LivedLife[],
  statement: LifeStatement,
  { near = null, weigh = true }: FitHow = {},
): LivesFit {
  const warns = statement.central.pfMean > 0
  const likelihood = livesLikelihood(lives, { warns, factors: statement.factors.length })
  const prior = priorOf(statement, likelihood.layout)
  if (lives.length === 0) return asStated(likelihood, statement, prior, true)
  const posterior = posteriorOf(likelihood, prior)
  const begun = near && maximiseNear(posterior, pointOf(near, likelihood.layout, prior))
  const peak = begun ?? maximise(posterior, startsOf(lives, likelihood, statement, prior), scaleOf(prior))
  if (!peak || !canBe(lifeOf(peak.point, likelihood.layout))) {
    return asStated(likelihood, statement, prior, false)
  }
  return asLearned(likelihood, prior, peak, weigh)
}

/** A fit's peak in a layout; what it did not learn stands where the prior has it. */
function pointOf({ mode, noticeRate, factors }: NearFit, layout: Layout, { centre }: Prior): number[] {
  const point = [...centre]
  point[layout.logScale] = Math.log(mode.scale)
  point[layout.logShape] = Math.log(mode.shape)
  if (layout.logPfMean !== null) point[layout.logPfMean] = Math.log(mode.pfMean)
  if (layout.logNoticeRate !== null && noticeRate > 0) point[layout.logNoticeRate] = Math.log(noticeRate)
  factors.forEach(({ log }, f) => {
    point[layout.factors + f] = log
  })
  return point
}

/** Within what the tables of lives are made for; identical ages, for one, drive β without end. */
const canBe = ({ shape, scale, pfMean }: TwoStage) => shape > 0.4 && shape < 12 && pfMean < 20 * scale

/** Independent normals over the logarithms, as the layout has them. */
type Prior = { centre: number[]; sd: number[] }

function priorOf({ central, spread, factors }: LifeStatement, layout: Layout): Prior {
  const stated: [number, number][] = [
    [Math.log(central.scale), spread.logScale],
    [Math.log(central.shape), spread.logShape],
  ]
  if (layout.logPfMean !== null) stated.push([Math.log(central.pfMean), spread.logPfMean])
  if (layout.logNoticeRate !== null) stated.push([-Math.log(central.pfMean), NOTICE_SPREAD])
  for (const { log, sd } of factors) stated.push([log, sd])
  return { centre: stated.map(([log]) => log), sd: stated.map(([, sd]) => sd) }
}

const offPrior = (point: ArrayLike<number>, { centre, sd }: Prior) =>
  centre.map((middle, i) => (point[i]! - middle) / sd[i]!)

/** ln of likelihood times prior, up to a constant. */
function posteriorOf({ at }: LivesLikelihood, prior: Prior): Smooth {
  const { sd } = prior
  return (point) => {
    const { value, gradient } = at(point)
    const off = offPrior(point, prior)
    return {
      value: value - dot(off, off) / 2,
      gradient: gradient.map((slope, i) => slope - off[i]! / sd[i]!),
    }
  }
}

/** Of more lives than twice this many, so many show first where the peak of all must be near. */
const FEW = 4_000

/** Two starts: the statement, and what the lives say at a glance. Of many lives a sample has gone ahead from them. */
function startsOf(
  lives: readonly LivedLife[],
  { layout }: LivesLikelihood,
  statement: LifeStatement,
  prior: Prior,
): number[][] {
  const starts = [prior.centre, atAGlance(lives, statement, prior)]
  if (lives.length <= 2 * FEW) return starts
  const every = Math.floor(lives.length / FEW)
  const sample = livesLikelihood(
    lives.filter((_, i) => i % every === 0),
    {
      warns: layout.logPfMean !== null,
      notices: layout.logNoticeRate !== null,
      factors: statement.factors.length,
    },
  )
  const ahead = maximise(posteriorOf(sample, prior), starts, scaleOf(prior))
  return ahead ? [ahead.point] : starts
}

/** How far a logarithm may have to move. */
const scaleOf = ({ sd }: Prior) => sd.map((s) => Math.min(s, 1))

/** The statement, with the η under which as many parts would have begun to go as were seen to. */
function atAGlance(lives: readonly LivedLife[], { central }: LifeStatement, { centre }: Prior): number[] {
  let hazard = 0
  let gone = 0
  for (const { startAge, entry, ending } of lives) {
    const from = Math.max(startAge, entry?.age ?? 0) / central.scale
    hazard += Math.max((ending.age / central.scale) ** central.shape - from ** central.shape, 0)
    if (ending.kind !== 'sound' && ending.kind !== 'open') gone++
  }
  const [logScale, ...rest] = centre
  const moved = Math.log(hazard / (gone + 0.5)) / central.shape
  return [logScale! + (Number.isFinite(moved) ? moved : 0), ...rest]
}

function asLearned(likelihood: LivesLikelihood, prior: Prior, peak: Maximum, weigh: boolean): LivesFit {
  const { layout, endings, contradictory, withoutWarning } = likelihood
  const { point, covariance } = peak
  const mode = lifeOf(point, layout)
  const posterior = (at: readonly number[]) => {
    const off = offPrior(at, prior)
    return likelihood.valueAt(at) - dot(off, off) / 2
  }
  return {
    converged: true,
    mode,
    noticeRate: layout.logNoticeRate === null ? 0 : Math.exp(point[layout.logNoticeRate]!),
    se: spreadOf(covariance, layout),
    factors: point
      .slice(layout.factors)
      .map((log, f) => ({ log, seLog: sdAt(covariance, layout.factors + f) })),
    covariance,
    logLikelihood: likelihood.at(point).value,
    nodes: posteriorNodes(weigh ? posterior : null, peak, mode),
    endings,
    contradictory,
    withoutWarning,
  }
}

function asStated(
  { layout, at, endings, contradictory, withoutWarning }: LivesLikelihood,
  { central, spread, factors }: LifeStatement,
  { centre, sd }: Prior,
  converged: boolean,
): LivesFit {
  return {
    converged,
    mode: central,
    noticeRate: layout.logNoticeRate === null ? 0 : Math.exp(centre[layout.logNoticeRate]!),
    se: { ...spread, logPfMean: layout.logPfMean === null ? 0 : spread.logPfMean },
    factors: factors.map((factor) => ({ log: factor.log, seLog: factor.sd })),
    covariance: sd.map((s, i) => sd.map((_, j) => (i === j ? s * s : 0))),
    logLikelihood: at(centre).value,
    nodes: statedNodes(central, spread),
    endings,
    contradictory,
    withoutWarning,
  }
}

function lifeOf(point: readonly number[], { logPfMean }: Layout): TwoStage {
  const [scale, shape] = [Math.exp(point[0]!), Math.exp(point[1]!)]
  return { shape, scale, pfMean: logPfMean === null ? 0 : Math.exp(point[logPfMean]!) }
}

const sdAt = (covariance: Matrix, i: number) => Math.sqrt(covariance[i]![i]!)

const spreadOf = (covariance: Matrix, { logScale, logShape, logPfMean }: Layout): LogSpread => ({
  logScale: sdAt(covariance, logScale),
  logShape: sdAt(covariance, logShape),
  logPfMean: logPfMean === null ? 0 : sdAt(covariance, logPfMean),
})

/**
 * Nodes of the normal at the peak, weighed by the true posterior where that is given. What is learned beside η, β and δ moves with them
 * to where the normal at the peak has it.
 */
function posteriorNodes(
  posterior: ((point: readonly number[]) => number) | null,
  { point, value, covariance }: Maximum,
  mode: TwoStage,
): ParameterNodes {
  const own = mode.pfMean > 0 ? [0, 1, 2] : [0, 1]
  const block = own.map((i) => own.map((j) => covariance[i]![j]!))
  const nodes = correlatedNodes(mode, block)
  const precision = invertPositive(block)
  if (!precision || !posterior) return nodes
  const weight = nodes.weight.map((plain, k) => {
    const off = logRatio(lifeAt(nodes, k), mode)
    const pull = multiply(precision, off)
    const moved = point.map(
      (x, i) =>
        x +
        dot(
          own.map((j) => covariance[i]![j]!),
          pull,
        ),
    )
    const ratio = Math.exp(posterior(moved) - value + dot(off, pull) / 2)
    return Number.isFinite(ratio) ? plain * ratio : 0
  })
  const total = weight.reduce((sum, w) => sum + w, 0)
  return { ...nodes, weight: weight.map((w) => w / total) }
}

function logRatio(life: TwoStage, mode: TwoStage): number[] {
  const logs = [Math.log(life.scale / mode.scale), Math.log(life.shape / mode.shape)]
  return mode.pfMean > 0 ? [...logs, Math.log(life.pfMean / mode.pfMean)] : logs
}

/** Rates that somebody stated, learned from counts: Beta priors about the statements, and how far off they are. */
import { logGamma } from './log-gamma'

/** A stated rate, how sure its author is of it, and how often it was so and not so (expected counts may be fractions). */
export type CountedRate = {
  stated: number
  /** Standard deviation of its log odds. */
  spread: number
  yes: number
  no: number
}

/** A rate stated as 0 or 1 is taken as this far from it: no count can speak about a certainty. */
const LEAST_RATE = 1e-3
/**
 * An author may be surer, or less sure, than the grade says: all of the spreads together times one of these, equally
 * likely at first. Where the statements are right, that keeps what chance brings out of them.
 */
const SPREADS = [0.25, 0.5, 1, 2]

/**
 * The means of the posteriors. The prior Beta(1/((1 − r)σ²), 1/(rσ²)) has the mean r; its log odds have the variance
 * σ², to first order. The factor on all σ is weighed by the marginal likelihood of all counts.
 *
 * @returns one a rate, between 0 and 1; as stated where nothing was counted
 */
export function learnedRates(rates: readonly CountedRate[]): number[] {
  const logs = SPREADS.map((factor) => rates.reduce((sum, rate) => sum + logMarginal(rate, factor), 0))
  const most = Math.max(...logs)
  const weights = logs.map((log) => Math.exp(log - most))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return rates.map((rate) =>
    // Nothing counted leaves the statement as it is, to the last digit.
    rate.yes + rate.no === 0
      ? rate.stated
      : SPREADS.reduce((mean, factor, i) => mean + (weights[i]! / total) * posteriorMean(rate, factor), 0),
  )
}

/** A rate as far inside 0 and 1 as its prior takes it to be. */
export const insideRate = (rate: number): number => Math.min(Math.max(rate, LEAST_RATE), 1 - LEAST_RATE)

function prior({ stated, spread }: CountedRate, factor: number): [number, number] {
  const rate = insideRate(stated)
  const variance = (factor * spread) ** 2
  return [1 / ((1 - rate) * variance), 1 / (rate * variance)]
}

function posteriorMean(rate: CountedRate, factor: number): number {
  const [a, b] = prior(rate, factor)
  return (a + rate.yes) / (a + b + rate.yes + rate.no)
}

/** ln of the Beta-binomial likelihood, without what does not depend on the prior. */
function logMarginal(rate: CountedRate, factor: number): number {
  const [a, b] = prior(rate, factor)
  return logBeta(a + rate.yes, b + rate.no) - logBeta(a, b)
}

const logBeta = (a: number, b: number) => logGamma(a) + logGamma(b) - logGamma(a + b)

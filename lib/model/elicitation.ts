import type { TwoStage } from './two-stage'

/** How sure the author of a statement is. */
export type Confidence = 'hunch' | 'experience' | 'documented'

/** Standard deviations of the normal priors on ln η, ln β and ln δ. */
export type LogSpread = { logScale: number; logShape: number; logPfMean: number }

/** The spread that each grade of confidence stands for (a convention of the model, not a measurement). */
export const GRADE_SPREAD: Record<Confidence, LogSpread> = {
  hunch: { logScale: 0.6, logShape: 0.4, logPfMean: 0.8 },
  experience: { logScale: 0.3, logShape: 0.25, logPfMean: 0.5 },
  documented: { logScale: 0.12, logShape: 0.15, logPfMean: 0.3 },
}

/**
 * The two-stage life that an author's ages describe; nobody is asked for a shape parameter.
 *
 * β = ln(ln 2 / ln(10/9)) / ln(p50/p10), η = p50 / (ln 2)^(1/β), δ = warning / ln 2: the Weibull through two
 * quantiles and the exponential through its median.
 *
 * @param p10 age by which 10 % show the onset, clock units, 0 < p10 < p50
 * @param p50 age by which half show it
 * @param warning median P–F interval in clock units; 0 where the part fails without warning
 */
export function fromStatement({
  p10,
  p50,
  warning,
}: {
  p10: number
  p50: number
  warning: number
}): TwoStage {
  const shape = Math.log(Math.LN2 / Math.log(10 / 9)) / Math.log(p50 / p10)
  return { shape, scale: p50 / Math.LN2 ** (1 / shape), pfMean: warning / Math.LN2 }
}

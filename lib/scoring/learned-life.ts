/** The parameters of a weak point's lives as learned: of the original part, and with factors on η. */
import type { LifeParameters } from '@/lib/model/life-table'
import { correlatedNodes, type ParameterNodes } from '@/lib/model/parameter-nodes'
import type { LearnedLife } from './family-fit'

/** @param indices the factors that apply together, by their place in `lifeFactors` */
export function learnedCentral({ mode, factors }: LearnedLife, indices: readonly number[]): LifeParameters {
  return { ...mode, scale: mode.scale * Math.exp(indices.reduce((a, i) => a + factors[i]!.log, 0)) }
}

/**
 * Nodes over the posterior. With factors, the spread of ln η is that of the sum, with its covariance: the posterior
 * is then taken as normal.
 */
export function learnedNodes(learned: LearnedLife, indices: readonly number[]): ParameterNodes {
  if (indices.length === 0) return learned.nodes
  return correlatedNodes(learnedCentral(learned, indices), lifeCovariance(learned, indices))
}

/** The covariance of ln η + Σ ln factor, ln β and, where the part gives warning, ln δ. */
function lifeCovariance({ mode, factors, covariance }: LearnedLife, indices: readonly number[]): number[][] {
  const first = covariance.length - factors.length
  const summed = [[0, ...indices.map((i) => first + i)], [1], ...(mode.pfMean > 0 ? [[2]] : [])]
  return summed.map((rows) =>
    summed.map((columns) =>
      rows.reduce((a, i) => a + columns.reduce((b, j) => b + covariance[i]![j]!, 0), 0),
    ),
  )
}

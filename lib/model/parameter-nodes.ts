import { cholesky, dot } from './cholesky'
import type { LogSpread } from './elicitation'
import { normalRule } from './gauss-hermite'
import type { TwoStage } from './two-stage'

/** Weighted parameters of one weak point: node k is (shape[k], scale[k], pfMean[k]); the weights sum to 1. */
export type ParameterNodes = {
  shape: Float64Array
  scale: Float64Array
  pfMean: Float64Array
  weight: Float64Array
}

/** Above this standard deviation of ln η three nodes err by up to 14 % of the chance, five by under 2 %. */
const WIDE = 0.2

/**
 * The nodes of a normal distribution over (ln η, ln β, ln δ), independent of each other: the tensor product of
 * Gauss–Hermite rules, 5 nodes for ln η where its standard deviation is above 0.2, else 3; 3 for each other; 1
 * for δ = 0. At most 45.
 *
 * @param central the parameters at the middle of the distribution
 * @param spread standard deviations; that of ln η is the total of statement, revision and variant
 */
export function statedNodes(central: TwoStage, spread: LogSpread): ParameterNodes {
  const scales = lognormalRule(central.scale, spread.logScale, spread.logScale > WIDE ? 5 : 3)
  const shapes = lognormalRule(central.shape, spread.logShape, 3)
  const pfMeans = lognormalRule(central.pfMean, spread.logPfMean, central.pfMean > 0 ? 3 : 1)
  // β outermost, δ innermost: neighbouring nodes share β and η, and whoever steps through them the exponentials.
  const grid = shapes.flatMap((shape) =>
    scales.flatMap((scale) => pfMeans.map((pfMean) => ({ scale, shape, pfMean }))),
  )
  return {
    shape: Float64Array.from(grid, (node) => node.shape.value),
    scale: Float64Array.from(grid, (node) => node.scale.value),
    pfMean: Float64Array.from(grid, (node) => node.pfMean.value),
    weight: Float64Array.from(grid, (node) => node.shape.weight * node.scale.weight * node.pfMean.weight),
  }
}

/**
 * The nodes of a normal distribution over (ln η, ln β, ln δ) that are not independent: the same rule, through the
 * Cholesky factor (Naylor & Smith 1982).
 *
 * @param central the parameters at the middle of the distribution
 * @param covariance of ln η, ln β and, where δ > 0, ln δ; positive definite
 */
export function correlatedNodes(
  central: TwoStage,
  covariance: readonly (readonly number[])[],
): ParameterNodes {
  // β first: the nodes then share it as those of a statement do.
  const order = central.pfMean > 0 ? [1, 0, 2] : [1, 0]
  const lower = cholesky(order.map((i) => order.map((j) => covariance[i]![j]!)))
  if (!lower) throw new RangeError('the covariance of a learned life is not positive definite')
  const grid = tensor([3, Math.sqrt(covariance[0]![0]!) > WIDE ? 5 : 3, 3].slice(0, order.length))
  const moves = grid.map(({ z }) => lower.map((row) => dot(row, z)))
  return {
    shape: Float64Array.from(moves, (move) => central.shape * Math.exp(move[0]!)),
    scale: Float64Array.from(moves, (move) => central.scale * Math.exp(move[1]!)),
    pfMean: Float64Array.from(moves, (move) => central.pfMean * Math.exp(move[2] ?? 0)),
    weight: Float64Array.from(grid, ({ weight }) => weight),
  }
}

/** Points of independent standard normals, the first coordinate outermost. */
function tensor(counts: readonly number[]): { z: number[]; weight: number }[] {
  return counts.reduce<{ z: number[]; weight: number }[]>(
    (grid, count) => {
      const { nodes, weights } = normalRule(count)
      return grid.flatMap(({ z, weight }) =>
        nodes.map((node, i) => ({ z: [...z, node], weight: weight * weights[i]! })),
      )
    },
    [{ z: [], weight: 1 }],
  )
}

/** Node k as a two-stage life. */
export function lifeAt(nodes: ParameterNodes, k: number): TwoStage {
  return { shape: nodes.shape[k]!, scale: nodes.scale[k]!, pfMean: nodes.pfMean[k]! }
}

function lognormalRule(median: number, logSd: number, count: number): { value: number; weight: number }[] {
  const { nodes, weights } = normalRule(count)
  return nodes.map((z, i) => ({ value: median * Math.exp(logSd * z), weight: weights[i]! }))
}

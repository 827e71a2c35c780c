import { findRoot } from './roots'

/** Nodes and weights of an expectation over a standard normal; the weights sum to 1. */
export type NormalRule = { nodes: number[]; weights: number[] }

/**
 * Gauss–Hermite quadrature for a standard normal: exact for polynomials up to degree 2n − 1.
 *
 * The nodes are the zeros of the Hermite polynomial He_n, which lie between those of He_{n−1}; the weights are
 * n! / (n·He_{n−1}(x))². Source: Abramowitz & Stegun 25.4.46 for the probabilists' polynomials, from memory.
 *
 * @param count number of nodes, 1 to 9
 */
export function normalRule(count: number): NormalRule {
  const nodes = hermiteZeros(count)
  const factorial = nodes.reduce((product, _, i) => product * (i + 1), 1)
  const weights = nodes.map((x) => factorial / (count * hermite(count - 1, x)) ** 2)
  return { nodes, weights }
}

function hermiteZeros(degree: number): number[] {
  if (degree === 0) return []
  const bound = 2 * Math.sqrt(degree)
  const fences = [-bound, ...hermiteZeros(degree - 1), bound]
  return fences.slice(1).map((right, i) => {
    const isMiddle = degree % 2 === 1 && i === (degree - 1) / 2
    return isMiddle ? 0 : findRoot((x) => hermite(degree, x), fences[i]!, right)
  })
}

/** He_n(x), by x·He_k = He_{k+1} + k·He_{k−1}. */
function hermite(degree: number, x: number): number {
  let previous = 0
  let current = 1
  for (let k = 0; k < degree; k++) [previous, current] = [current, x * current - k * previous]
  return current
}

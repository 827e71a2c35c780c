/**
 * Sound, developing, failed: the mathematics of the simulated world, written apart from the product's own so
 * that each can judge the other. Onset U ~ Weibull(shape, scale); from onset to failure H ~ Exponential(pfMean).
 */
import type { WeakPoint } from '@/lib/records/library'
import type { Random } from './random'

/** In the units of the weak point's clock; `pfMean` 0: fails without warning. */
export type Parameters = { shape: number; scale: number; pfMean: number }

/** What a step does to a part that was not failed at its start. */
export type Step = {
  /** P(still sound | sound). */
  stay: number
  /** P(developing, not failed | sound). */
  onset: number
  /** P(not failed | developing). */
  keep: number
  /** P(failed | sound). */
  failSound: number
}

/** e to the power of minus this is nothing: no part is sound any more. */
const NOBODY_LEFT = 700

/** The parameters that an author's words stand for, without any spread. */
export function statedParameters(weakPoint: Pick<WeakPoint, 'onset' | 'warning'>): Parameters {
  const { p10, p50 } = weakPoint.onset
  const shape = Math.log(Math.log(2) / Math.log(10 / 9)) / Math.log(p50 / p10)
  return { shape, scale: p50 / Math.log(2) ** (1 / shape), pfMean: weakPoint.warning / Math.log(2) }
}

export const soundChance = (p: Parameters, age: number): number => Math.exp(-((age / p.scale) ** p.shape))

/** The age of onset of a part that is sound at `age` now. */
export function drawOnset(p: Parameters, age: number, random: Random): number {
  const hazard = (age / p.scale) ** p.shape + random.exponential(1)
  return p.scale * hazard ** (1 / p.shape)
}

/**
 * The step from effective age `from` to `to` (`to` ≥ `from` ≥ 0), by Gauss-Legendre quadrature over the age of
 * onset on panels that shrink towards age 0 and are never long against the warning or the age.
 */
export function stepBetween(p: Parameters, from: number, to: number): Step {
  const stay = Math.exp((from / p.scale) ** p.shape - (to / p.scale) ** p.shape)
  if (p.pfMean === 0) return { stay, onset: 0, keep: 0, failSound: 1 - stay }
  const keep = Math.exp(-(to - from) / p.pfMean)
  const start = (from / p.scale) ** p.shape
  let onset = 0
  let failSound = 0
  let left = from
  while (left < to && (left / p.scale) ** p.shape - start < NOBODY_LEFT) {
    const right = left + panelLength(p, left, to)
    const half = (right - left) / 2
    for (let i = 0; i < NODES.length; i++) {
      const u = left + half * (1 + NODES[i]!)
      const hazard = (u / p.scale) ** p.shape
      const mass = half * WEIGHTS[i]! * Math.exp(start - hazard) * ((p.shape * hazard) / u)
      const survive = -(to - u) / p.pfMean
      onset += mass * Math.exp(survive)
      failSound += mass * -Math.expm1(survive)
    }
    left = right
  }
  return { stay, onset, keep, failSound }
}

/**
 * Near age 0 the density is a broken power: the first panel holds a mass of 1e-14, the next ones double. Old
 * parts with a steep shape lose their last chance of being sound within a small part of the scale.
 */
function panelLength(p: Parameters, left: number, to: number): number {
  const first = p.scale * 1e-14 ** (1 / p.shape)
  const start = Math.max(left, first)
  const steep = (3 * start) / (p.shape * (start / p.scale) ** p.shape)
  return Math.min(Math.max(steep, start * 1e-9), start, 2 * p.pfMean, p.scale / 4, to - left)
}

const [NODES, WEIGHTS] = gaussLegendre(12)

/** Nodes and weights on (−1, 1): Newton's method on the Legendre polynomial's three-term recurrence. */
function gaussLegendre(count: number): [number[], number[]] {
  const nodes: number[] = []
  const weights: number[] = []
  for (let i = 0; i < count; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5))
    let slope = 1
    for (let round = 0; round < 100; round++) {
      let [previous, value] = [1, x]
      for (let k = 2; k <= count; k++) {
        ;[previous, value] = [value, ((2 * k - 1) * x * value - (k - 1) * previous) / k]
      }
      slope = (count * (x * value - previous)) / (x * x - 1)
      x -= value / slope
      if (Math.abs(value / slope) < 1e-15) break
    }
    nodes.push(x)
    weights.push(2 / ((1 - x * x) * slope * slope))
  }
  return [nodes, weights]
}

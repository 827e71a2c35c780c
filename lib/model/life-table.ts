/**
 * Tabulated two-stage lives: what the filter and the scores look up instead of integrating.
 *
 * For each parameter node the logarithm of r(a) = D(a)/S_U(a) (developing against sound, in a life that began
 * sound at age 0 and was never looked at) is tabulated against z = log(a/η), where it is close to a straight
 * line, and read back by cubic Hermite interpolation. S_U itself needs no table: log S_U(a) = −exp(β·z).
 */

import { SIX, THREE } from './gauss-legendre'

const Z_LOW = -9
const Z_HIGH = Math.log(20)
const STEPS = 360
const Z_STEP = (Z_HIGH - Z_LOW) / STEPS
const STEPS_PER_UNIT = 1 / Z_STEP

/** Parameters of one node; `pfMean` is the mean P–F interval δ (0: fails without warning). */
export interface LifeParameters {
  shape: number
  scale: number
  pfMean: number
}

/** Nodes of a weak point's life (one central node, or a quadrature over what is not known) with tables. */
export interface LifeTables {
  count: number
  shape: Float64Array
  logScale: Float64Array
  /** 1/δ; Infinity where there is no warning. */
  failRate: Float64Array
  /** The distinct values of `failRate`, which of them each node has, and room for one number of each. */
  rates: Float64Array
  rateOf: Int32Array
  keeps: Float64Array
  weight: Float64Array
  /** Row-major, `count` rows of STEPS + 1: log r and its change over one grid step. */
  logRatio: Float64Array
  slope: Float64Array
}

/** Whether the part gives warning, and exists at all in this variant. */
const hasWarning = ({ pfMean, scale }: LifeParameters) => pfMean > 0 && Number.isFinite(scale)

/** Up to this span, in units of δ, three points hold e^(−v) to 1e-8. */
const SHORT_SPAN = 0.5
/** Longest panel, in units of δ, over which six points hold e^(−v) to 1e-9. */
const PANEL = 2.5
/** What onset contributed longer than so many δ ago has failed. */
const MEMORY = 30

/**
 * Onset in (a1, a2] that has not failed by a2, over S_U(a2): ∫ h(u)·e^(x(a2) − x(u) − (a2−u)/δ) du.
 * The integrand is positive and is concentrated within a few δ of a2, so the panels start there.
 */
function onsetOverSound(a1: number, a2: number, shape: number, logScale: number, pfMean: number): number {
  const x2 = Math.exp(shape * (Math.log(a2) - logScale))
  const span = Math.min((a2 - a1) / pfMean, MEMORY)
  const panels = Math.ceil(span / PANEL)
  const rule = span < SHORT_SPAN ? THREE : SIX
  const width = span / panels
  let sum = 0
  for (let panel = 0; panel < panels; panel++) {
    for (let i = 0; i < rule.x.length; i++) {
      const v = (panel + rule.x[i]!) * width
      const u = a2 - pfMean * v
      const x = Math.exp(shape * (Math.log(u) - logScale))
      sum += rule.w[i]! * width * ((shape * x) / u) * Math.exp(Math.min(x2 - x, 600) - v)
    }
  }
  return sum * pfMean
}

/** r at the first grid age, summed over halving stretches down to 0 (removes the singularity for β < 1). */
function ratioFromNew(age: number, p: LifeParameters, logScale: number): number {
  let ratio = 0
  let high = age
  for (let i = 0; i < 60 && age - high < MEMORY * p.pfMean; i++) {
    const low = high / 2
    const x = (a: number) => Math.exp(p.shape * (Math.log(a) - logScale))
    ratio +=
      onsetOverSound(low, high, p.shape, logScale, p.pfMean) *
      Math.exp(x(age) - x(high) - (age - high) / p.pfMean)
    high = low
  }
  return ratio
}

function fillTable(p: LifeParameters, logRatio: Float64Array, slope: Float64Array): void {
  const logScale = Math.log(p.scale)
  let age = p.scale * Math.exp(Z_LOW)
  logRatio[0] = Math.log(ratioFromNew(age, p, logScale))
  for (let j = 1; j <= STEPS; j++) {
    const z = Z_LOW + j * Z_STEP
    const next = p.scale * Math.exp(z)
    const growth = Math.exp(p.shape * z) - Math.exp(p.shape * (z - Z_STEP)) - (next - age) / p.pfMean
    const fresh = Math.log(onsetOverSound(age, next, p.shape, logScale, p.pfMean))
    logRatio[j] = logOfSum(logRatio[j - 1]! + growth, fresh)
    age = next
  }
  fillSlopes(logRatio, slope)
}

function logOfSum(a: number, b: number): number {
  const larger = Math.max(a, b)
  return larger + Math.log1p(Math.exp(Math.min(a, b) - larger))
}

/** Central differences of fourth order; of first order at the two outermost points on either side. */
function fillSlopes(values: Float64Array, slope: Float64Array): void {
  const last = values.length - 1
  const at = (j: number) => values[Math.min(Math.max(j, 0), last)]!
  for (let j = 0; j <= last; j++) {
    const inside = j >= 2 && j <= last - 2
    const [from, to] = [Math.max(j - 1, 0), Math.min(j + 1, last)]
    slope[j] = inside
      ? (8 * (at(j + 1) - at(j - 1)) - (at(j + 2) - at(j - 2))) / 12
      : (at(to) - at(from)) / (to - from)
  }
}

/**
 * Builds the tables of a set of nodes.
 *
 * @param nodes parameters, β 0.5 to 10 and δ/η 0 to 10, in the clock's unit (η may be Infinity: a part that
 *   this variant does not have)
 * @param weights one a node, summing to 1
 */
export function lifeTables(nodes: readonly LifeParameters[], weights: ArrayLike<number>): LifeTables {
  const count = nodes.length
  const logRatio = new Float64Array(count * (STEPS + 1)).fill(Number.NEGATIVE_INFINITY)
  const slope = new Float64Array(count * (STEPS + 1))
  nodes.forEach((node, k) => {
    const row = [k * (STEPS + 1), (k + 1) * (STEPS + 1)] as const
    if (hasWarning(node)) fillTable(node, logRatio.subarray(...row), slope.subarray(...row))
  })
  const failRate = Float64Array.from(nodes, (n) => 1 / n.pfMean)
  const rates = Float64Array.from(new Set(failRate))
  return {
    count,
    shape: Float64Array.from(nodes, (n) => n.shape),
    logScale: Float64Array.from(nodes, (n) => Math.log(n.scale)),
    failRate,
    rates,
    rateOf: Int32Array.from(failRate, (rate) => rates.indexOf(rate)),
    keeps: new Float64Array(rates.length),
    weight: Float64Array.from(weights),
    logRatio,
    slope,
  }
}

/** x = −log S_U at a given log age. */
export function cumulativeOnset(tables: LifeTables, node: number, logAge: number): number {
  return Math.exp(tables.shape[node]! * (logAge - tables.logScale[node]!))
}

/** log r = log(D/S_U) at a given log age, from the table; before its first age by the line it begins with. */
export function logDevelopingRatio(tables: LifeTables, node: number, logAge: number): number {
  const { logRatio, slope } = tables
  const z = logAge - tables.logScale[node]!
  const position = (z - Z_LOW) * STEPS_PER_UNIT
  const row = node * (STEPS + 1)
  if (!(position > 0)) {
    const first = logRatio[row]!
    if (first === Number.NEGATIVE_INFINITY) return first
    // No more develop than ever began: r ≤ x there.
    return Math.min(first + position * slope[row]!, tables.shape[node]! * z)
  }
  if (position >= STEPS) return logRatio[row + STEPS]!
  const j = position | 0
  const at = row + j
  const v0 = logRatio[at]!
  if (v0 === Number.NEGATIVE_INFINITY) return v0
  const t = position - j
  const rise = logRatio[at + 1]! - v0
  const bend0 = slope[at]! - rise
  const bend1 = slope[at + 1]! - rise
  // Cubic Hermite: the chord, bent by how the slopes at both ends differ from it.
  return v0 + t * (rise + (1 - t) * (bend0 * (1 - t) - bend1 * t))
}

/** r itself; Infinity where it is too large for a number. */
export function developingRatio(tables: LifeTables, node: number, logAge: number): number {
  return Math.exp(logDevelopingRatio(tables, node, logAge))
}

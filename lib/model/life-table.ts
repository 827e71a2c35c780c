/**
 * Tabulated two-stage lives: what the filter and the scores look up instead of integrating.
 *
 * For each parameter node the ratio r(a) = D(a)/S_U(a) (developing against sound, in a life that began
 * sound at age 0 and was never looked at) is tabulated against z = log(a/η), where it is close to a power
 * law, and read back by cubic Hermite interpolation. Its slope is exact, from r' = h + (h − 1/δ)·r with the
 * onset hazard h. S_U itself needs no table: log S_U(a) = −exp(β·z).
 */

const Z_LOW = -9
const Z_HIGH = Math.log(20)
const STEPS = 480
const Z_STEP = (Z_HIGH - Z_LOW) / STEPS
/** Beyond this ratio a sound part of that age hardly exists; the table is held there. */
const RATIO_CAP = 1e6

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
  weight: Float64Array
  /** Row-major, `count` rows of STEPS + 1: r and dr/dz. */
  ratio: Float64Array
  slope: Float64Array
}

/** Gauss–Legendre on [0, 1], six points. */
const GL_X = [
  0.033765242898424, 0.1693953067668678, 0.3806904069584016, 0.6193095930415985, 0.8306046932331322,
  0.966234757101576,
]
const GL_W = [
  0.0856622461895852, 0.1803807865240693, 0.2339569672863455, 0.2339569672863455, 0.1803807865240693,
  0.0856622461895852,
]

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
  const width = span / panels
  let sum = 0
  for (let panel = 0; panel < panels; panel++) {
    for (let i = 0; i < 6; i++) {
      const v = (panel + GL_X[i]!) * width
      const u = a2 - pfMean * v
      const x = Math.exp(shape * (Math.log(u) - logScale))
      sum += GL_W[i]! * width * ((shape * x) / u) * Math.exp(Math.min(x2 - x, 600) - v)
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

function fillTable(p: LifeParameters, ratio: Float64Array, slope: Float64Array): void {
  const logScale = Math.log(p.scale)
  let age = p.scale * Math.exp(Z_LOW)
  let r = ratioFromNew(age, p, logScale)
  for (let j = 0; ; j++) {
    const z = Z_LOW + j * Z_STEP
    const x = Math.exp(p.shape * z)
    ratio[j] = r
    slope[j] = r >= RATIO_CAP ? 0 : p.shape * x * (1 + r) - (age / p.pfMean) * r
    if (j === STEPS) return
    const next = p.scale * Math.exp(z + Z_STEP)
    const growth = Math.exp(Math.min(Math.exp(p.shape * (z + Z_STEP)) - x, 600) - (next - age) / p.pfMean)
    r = Math.min(r * growth + onsetOverSound(age, next, p.shape, logScale, p.pfMean), RATIO_CAP)
    age = next
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
  const ratio = new Float64Array(count * (STEPS + 1))
  const slope = new Float64Array(count * (STEPS + 1))
  nodes.forEach((node, k) => {
    const row = [k * (STEPS + 1), (k + 1) * (STEPS + 1)] as const
    if (node.pfMean > 0 && Number.isFinite(node.scale))
      fillTable(node, ratio.subarray(...row), slope.subarray(...row))
  })
  return {
    count,
    shape: Float64Array.from(nodes, (n) => n.shape),
    logScale: Float64Array.from(nodes, (n) => Math.log(n.scale)),
    failRate: Float64Array.from(nodes, (n) => 1 / n.pfMean),
    weight: Float64Array.from(weights),
    ratio,
    slope,
  }
}

/** x = −log S_U at a given log age. */
export function cumulativeOnset(tables: LifeTables, node: number, logAge: number): number {
  return Math.exp(tables.shape[node]! * (logAge - tables.logScale[node]!))
}

/** r = D/S_U at a given log age, from the table; below its first age by the local power law. */
export function developingRatio(tables: LifeTables, node: number, logAge: number): number {
  const position = (logAge - tables.logScale[node]! - Z_LOW) / Z_STEP
  const row = node * (STEPS + 1)
  if (!(position > 0)) {
    const first = tables.ratio[row]!
    return first > 0 ? first * Math.exp((position * Z_STEP * tables.slope[row]!) / first) : 0
  }
  if (position >= STEPS) return tables.ratio[row + STEPS]!
  const j = Math.floor(position)
  const t = position - j
  const at = row + j
  const r0 = tables.ratio[at]!
  const r1 = tables.ratio[at + 1]!
  const m0 = tables.slope[at]! * Z_STEP
  const m1 = tables.slope[at + 1]! * Z_STEP
  const s = 1 - t
  return (r0 * (1 + 2 * t) + m0 * t) * s * s + (r1 * (1 + 2 * s) - m1 * s) * t * t
}

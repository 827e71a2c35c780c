/**
 * M(a) = ln D(a) + a/δ = ln ∫₀ᵃ f_U(u)·e^(u/δ) du on a grid of ages: what has set in, its decay undone.
 *
 * It only grows, so D after any history of looks follows from differences of it. Tabulated with its derivatives by
 * ln η, ln β and ln δ, each with its slope, all exact at the nodes; read by cubic Hermite interpolation, which is
 * linear in them: the derivatives are those of the very function that is read.
 */
import { SIX, THREE } from '../gauss-legendre'
import { logSum } from '../two-stage'
import { type AgeGrid, GRID_STEP, type GridPoints } from './age-grid'

/** Numbers a node: M and its derivatives by ln η, ln β, ln δ, each followed by its slope over one cell. */
export const ROW = 8

export type LogParameters = { logScale: number; logShape: number; logPfMean: number }

export const makeTable = (grid: AgeGrid): Float64Array => new Float64Array((grid.cells + 1) * ROW)

/** Fills the table for one set of parameters (δ > 0). */
export function fillTable(grid: AgeGrid, parameters: LogParameters, table: Float64Array): void {
  const { nodes, three, six } = grid
  const onsets = new Onsets(parameters)
  onsets.gatherBefore(nodes.logAge[0]!)
  onsets.writeRow(nodes.logAge[0]!, nodes.age[0]!, table, 0)
  for (let j = 1; j <= grid.cells; j++) {
    const logAge = nodes.logAge[j]!
    const age = nodes.age[j]!
    const turns = onsets.turning(logAge, age) * GRID_STEP
    if (turns < SMOOTH) onsets.gather(three, (j - 1) * THREE.x.length, THREE.w, GRID_STEP)
    else if (turns < STEEP) onsets.gather(six, (j - 1) * SIX.x.length, SIX.w, GRID_STEP)
    else onsets.gatherFinely(nodes.logAge[j - 1]!, GRID_STEP, Math.min(Math.ceil(turns / STEEP), PANELS))
    onsets.writeRow(logAge, age, table, j * ROW)
  }
}

/** Three points hold an exponential that turns by no more to 1e-10. */
const SMOOTH = 0.3
/** Six points do. */
const STEEP = 3
/** Panels of a cell at most: where the weight turns faster, nothing is left of it. */
const PANELS = 16
/** ln x beyond which e^−x is nothing, and x no infinity. */
const SPENT = 14
/** Panels are no narrower than this: where the weight turns faster, nothing lasts. */
const NARROWEST = 0.005
/** A bound on the panels before the grid, for parameters that no life can have. */
const PANELS_BEFORE = 1_000
/** Panels below e^−36 of the sum change nothing. */
const NEGLIGIBLE = -36

/** The onsets gathered so far: ln of their sum, and the averages of how their weights move with ln β and ln δ. */
class Onsets {
  private readonly shape: number
  private readonly failRate: number
  private readonly logX = new Float64Array(SIX.x.length)
  private readonly x = new Float64Array(SIX.x.length)
  private readonly logWeight = new Float64Array(SIX.x.length)
  private readonly sum = Float64Array.of(Number.NEGATIVE_INFINITY, 0, 0)

  constructor(private readonly parameters: LogParameters) {
    this.shape = Math.exp(parameters.logShape)
    this.failRate = Math.exp(-parameters.logPfMean)
  }

  private logHazard(logAge: number): number {
    return Math.min(this.shape * (logAge - this.parameters.logScale), SPENT)
  }

  /** How fast the logarithm of the weight turns over ln age, at most. */
  turning(logAge: number, age: number): number {
    return this.shape * (1 + Math.exp(this.logHazard(logAge))) + age * this.failRate
  }

  /**
   * Adds a panel of u·f_U(u)·e^(u/δ) over ln u.
   *
   * @returns by how much less it is than the sum, as a logarithm
   */
  gather(points: GridPoints, from: number, weights: readonly number[], width: number): number {
    const { logX, x, logWeight, sum } = this
    let largest = Number.NEGATIVE_INFINITY
    for (let i = 0; i < weights.length; i++) {
      logX[i] = this.logHazard(points.logAge[from + i]!)
      x[i] = Math.exp(logX[i]!)
      logWeight[i] = this.parameters.logShape + logX[i]! - x[i]! + points.age[from + i]! * this.failRate
      if (logWeight[i]! > largest) largest = logWeight[i]!
    }
    let mass = 0
    let byShape = 0
    let byPfMean = 0
    for (let i = 0; i < weights.length; i++) {
      const weight = weights[i]! * Math.exp(logWeight[i]! - largest)
      mass += weight
      byShape += weight * (1 + (1 - x[i]!) * logX[i]!)
      byPfMean -= weight * points.age[from + i]! * this.failRate
    }
    const log = largest + Math.log(mass * width)
    const total = logSum(sum[0]!, log)
    const old = Math.exp(sum[0]! - total)
    const fresh = Math.exp(log - total) / mass
    sum[0] = total
    sum[1] = old * sum[1]! + fresh * byShape
    sum[2] = old * sum[2]! + fresh * byPfMean
    return log - total
  }

  /** Adds a stretch of ln u in so many panels; returns what {@link gather} does of the last. */
  gatherFinely(from: number, length: number, panels: number): number {
    const width = length / panels
    let added = 0
    for (let panel = 0; panel < panels; panel++) {
      const logAge = Float64Array.from(SIX.x, (x) => from + (panel + x) * width)
      added = this.gather({ logAge, age: logAge.map(Math.exp) }, 0, SIX.w, width)
    }
    return added
  }

  /** All onsets before an age: panels downwards, each narrow enough for six points, until nothing is added. */
  gatherBefore(logAge: number): void {
    let top = logAge
    for (let panel = 0; panel < PANELS_BEFORE; panel++) {
      const width = Math.max(STEEP / this.turning(top, Math.exp(top)), NARROWEST)
      const added = this.gatherFinely(top - width, width, 1)
      top -= width
      if (this.logHazard(top) < 0 && added < NEGLIGIBLE) return
    }
  }

  /** M, its derivatives and their slopes at an age, up to which all onsets are gathered. */
  writeRow(logAge: number, age: number, table: Float64Array, at: number): void {
    const m = this.sum[0]!
    const byShape = this.sum[1]!
    const byPfMean = this.sum[2]!
    const logX = this.logHazard(logAge)
    const x = Math.exp(logX)
    const grown = age * this.failRate
    const slope = Math.exp(this.parameters.logShape + logX - x + grown - m)
    const bend = slope * (this.shape * (1 - x) + grown - slope)
    const slopeByPfMean = -slope * (byPfMean + grown)
    table[at] = m
    table[at + 1] = slope * GRID_STEP
    // D depends on a/η, δ/η and β alone.
    table[at + 2] = -slope - byPfMean
    table[at + 3] = -(bend + slopeByPfMean) * GRID_STEP
    table[at + 4] = byShape
    table[at + 5] = slope * (1 + (1 - x) * logX - byShape) * GRID_STEP
    table[at + 6] = byPfMean
    table[at + 7] = slopeByPfMean * GRID_STEP
  }
}

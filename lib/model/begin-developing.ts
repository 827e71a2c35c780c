/**
 * P(developing after a step, not failed | sound before it), where a difference of table values would have no
 * digits: short steps, and parts so old that hardly a sound one exists.
 */
import { SIX, THREE } from './gauss-legendre'
import type { LifeTables } from './life-table'

/** (1 − e^(−y))/y for y ≥ 0. */
const decayMean = (y: number): number => (y < 1e-12 ? 1 : -Math.expm1(-y) / y)

/**
 * Over a step so short that the onset hazard may be taken as a straight line.
 *
 * With u(y) the age at which y onsets are spent, it is ∫ e^(−y)·e^(−(a₂ − u(y))/δ) dy over the onsets H of the step. For a
 * constant hazard that is H·(e^(−H) − e^(−d))/(d − H), written here without cancellation or overflow; a hazard that rises
 * by `lean` of itself puts u(y) later by lean·Δ·s(1 − s)/2 at the share s of the step, whose mean follows in the last factor.
 *
 * @param onsets H, −log of the sound that stay sound
 * @param decay d, the step in mean P–F intervals
 * @param lean by which part of itself the hazard rises over the step
 */
export function beginOverShortStep(onsets: number, decay: number, lean: number): number {
  const y = decay - onsets
  const constant = onsets * Math.exp(-Math.min(onsets, decay)) * decayMean(Math.abs(y))
  return constant * (1 + (lean * decay) / (12 + (y * y) / 5))
}

const SHORT_SPAN = 0.5
const PANEL = 4
/** What begins after so many onsets have been spent is nothing. */
const SPENT = 16

/**
 * The integral over the onsets y spent since the step began: ∫ e^(−y)·e^(−(a₂ − u(y))/δ) dy with
 * u(y) = η·(x₁ + y)^(1/β). Smooth where the onset hazard is above 1/δ, which is where it is asked.
 *
 * @param before x₁, −log S_U at the step's start
 * @param onsets −log of the sound that stay sound
 */
export function beginByOnsets(
  tables: LifeTables,
  node: number,
  age: number,
  before: number,
  onsets: number,
): number {
  const span = Math.min(onsets, SPENT)
  const { x, w } = span < SHORT_SPAN ? THREE : SIX
  const panels = Math.max(Math.ceil(span / PANEL), 1)
  const width = span / panels
  const failRate = tables.failRate[node]!
  let integral = 0
  for (let panel = 0; panel < panels; panel++) {
    for (let i = 0; i < x.length; i++) {
      const y = (panel + x[i]!) * width
      const begun = Math.exp(tables.logScale[node]! + Math.log(before + y) / tables.shape[node]!)
      integral += w[i]! * width * Math.exp(-y - Math.max(age - begun, 0) * failRate)
    }
  }
  return integral
}

/**
 * The renewal equation on a grid, by the Riemann–Stieltjes midpoint method of Xie (1989), Naval Research Logistics
 * 36 (from memory): the renewals of a cell are taken at its middle. It needs no density, so β < 1 does not disturb
 * it. Renewals at exactly a multiple of `renewEvery` are kept apart, on the grid's points.
 */
import { cumulativeHazard, type TwoStage } from '../two-stage'

/** State masses by age, for an original and a renewed part. */
export type StatesByAge = {
  originalDeveloping: Float64Array
  renewedSound: Float64Array
  renewedDeveloping: Float64Array
  /** P(not failed) of an original and of a renewed part. */
  original: Float64Array
  renewed: Float64Array
}

/** State masses at ages 0, `width`, 2·`width`, …; onsets are spread evenly over each stretch, which loses no mass. */
export function statesByAge(
  life: TwoStage,
  width: number,
  count: number,
  startsDeveloping: number,
): StatesByAge {
  const table = () => new Float64Array(count + 1)
  const states: StatesByAge = {
    originalDeveloping: table(),
    renewedSound: table(),
    renewedDeveloping: table(),
    original: table(),
    renewed: table(),
  }
  const lapse = width / life.pfMean
  const keep = Math.exp(-lapse)
  const onsetKept = life.pfMean === 0 ? 0 : -Math.expm1(-lapse) / lapse
  let developing = 0
  let soundBefore = 1
  for (let j = 0; j <= count; j++) {
    const sound = Math.exp(-cumulativeHazard(j * width, life))
    developing = developing * keep + (soundBefore - sound) * onsetKept
    soundBefore = sound
    const relapse = startsDeveloping === 0 ? 0 : startsDeveloping * Math.exp(-j * lapse)
    states.originalDeveloping[j] = developing
    states.original[j] = sound + developing
    states.renewedSound[j] = (1 - startsDeveloping) * sound
    states.renewedDeveloping[j] = (1 - startsDeveloping) * developing + relapse
    states.renewed[j] = (1 - startsDeveloping) * (sound + developing) + relapse
  }
  return states
}

/**
 * Renewals in each cell and at each point of the grid: M(t) = F₁(t) + ∫ F_R(t − s) dM(s), cell by cell.
 *
 * @param ages state masses at half cells
 * @param dueAfter cells after which a part is renewed in any case, 0 for never
 */
export function countRenewals(
  { original, renewed }: StatesByAge,
  cells: number,
  dueAfter: number,
): { renewals: Float64Array; due: Float64Array } {
  const renewals = new Float64Array(cells)
  const due = new Float64Array(cells + 1)
  const oldest = dueAfter || cells
  const fromMiddle = failuresByLag(renewed, oldest, 1)
  const fromPoint = failuresByLag(renewed, oldest, 0)
  const within = 1 - renewed[1]!
  const reachesDue = renewed[2 * oldest]!

  for (let i = 0; i < cells; i++) {
    let count = i < oldest ? original[2 * i]! - original[2 * i + 2]! : 0
    for (let lag = Math.min(i, oldest); lag > 0; lag--) count += renewals[i - lag]! * fromMiddle[lag]!
    if (dueAfter > 0) {
      const lastDue = Math.floor(i / dueAfter) * dueAfter
      count += due[lastDue]! * fromPoint[i - lastDue + 1]!
      if (i >= dueAfter) count += renewals[i - dueAfter]! * reachesDue
      if (i + 1 === dueAfter) due[i + 1] = original[2 * dueAfter]!
      else if ((i + 1) % dueAfter === 0) due[i + 1] = due[i + 1 - dueAfter]! * reachesDue
    }
    renewals[i] = count / (1 - within)
  }
  return { renewals, due }
}

/** Chance that a renewed part fails in the cell `lag` cells on, whose end it reaches at an age of 2·lag + `offset` half cells. */
function failuresByLag(renewed: Float64Array, oldest: number, offset: 0 | 1): Float64Array {
  const survives = (halfCells: number) => renewed[Math.min(2 * oldest, halfCells)]!
  const failures = new Float64Array(oldest + 1)
  for (let lag = 1; lag <= oldest; lag++)
    failures[lag] = survives(2 * lag + offset - 2) - survives(2 * lag + offset)
  return failures
}

/** Whether chances mean what they say: logistic recalibration. */
import type { Forecasts } from './forecasts'

/**
 * `logit(observed) = intercept + slope · logit(forecast)`. A slope below 1: forecasts are too extreme; above 1: too
 * timid. `inLarge` is the intercept with the slope held at 1: above 0, more failed than was said.
 */
export interface Calibration {
  slope: number
  slopeSe: number
  intercept: number
  inLarge: number
  inLargeSe: number
}

export type CalibrationFit =
  | ({ ok: true } & Calibration)
  /** Everything failed or nothing did; or the forecasts are all alike, or part failures from the rest entirely. */
  | { ok: false; reason: 'one-outcome' | 'no-convergence' }

const MOST_STEPS = 100
const CLOSE_ENOUGH = 1e-12
/** A part that separates failures from the rest lets the slope grow without end. */
const LARGEST_SLOPE = 1e3
/** Relative spread of the log-odds up to which forecasts are all alike. */
const ALIKE = 1e-10
/** Chances are kept this far from 0 and 1, where log-odds end. */
const LEAST_CHANCE = 1e-9

/** Slope and intercept by maximum likelihood (Cox 1958, Biometrika 45, 562–565), Newton's method. */
export function calibration({ chance, outcome }: Forecasts): CalibrationFit {
  const y = Float64Array.from(outcome)
  const failed = y.reduce((sum, value) => sum + value, 0)
  if (!(failed > 0 && failed < y.length)) return { ok: false, reason: 'one-outcome' }
  const x = Float64Array.from(chance, logit)
  const inLarge = shiftOnly(x, y)
  const line = straightLine(x, y)
  if (!inLarge || !line) return { ok: false, reason: 'no-convergence' }
  return { ok: true, ...line, inLarge: inLarge.shift, inLargeSe: inLarge.se }
}

const logit = (p: number): number => {
  const inside = Math.min(Math.max(p, LEAST_CHANCE), 1 - LEAST_CHANCE)
  return Math.log(inside / (1 - inside))
}

const logistic = (z: number): number => 1 / (1 + Math.exp(-z))

function shiftOnly(x: Float64Array, y: Float64Array): { shift: number; se: number } | null {
  let shift = 0
  for (let step = 0; step < MOST_STEPS; step++) {
    let [gradient, information] = [0, 0]
    for (let i = 0; i < x.length; i++) {
      const p = logistic(x[i]! + shift)
      gradient += y[i]! - p
      information += p * (1 - p)
    }
    const move = gradient / information
    shift += move
    if (!Number.isFinite(shift)) return null
    if (Math.abs(move) < CLOSE_ENOUGH) return { shift, se: 1 / Math.sqrt(information) }
  }
  return null
}

function straightLine(
  x: Float64Array,
  y: Float64Array,
): Pick<Calibration, 'slope' | 'slopeSe' | 'intercept'> | null {
  let [intercept, slope] = [0, 1]
  let before = Number.NEGATIVE_INFINITY
  let [upDown, turn] = [0, 0]
  for (let step = 0; step < MOST_STEPS; step++) {
    const at = momentsAt(x, y, intercept, slope)
    // A step that went too far is halved.
    if (at.logLikelihood < before - 1e-9 * Math.abs(before)) {
      ;[upDown, turn] = [upDown / 2, turn / 2]
      ;[intercept, slope] = [intercept - upDown, slope - turn]
      continue
    }
    before = at.logLikelihood
    const determinant = at.w * at.wxx - at.wx ** 2
    if (!(determinant > ALIKE * at.w * at.wxx)) return null
    upDown = (at.wxx * at.g - at.wx * at.gx) / determinant
    turn = (at.w * at.gx - at.wx * at.g) / determinant
    ;[intercept, slope] = [intercept + upDown, slope + turn]
    if (!Number.isFinite(intercept + slope) || Math.abs(slope) > LARGEST_SLOPE) return null
    if (Math.abs(upDown) + Math.abs(turn) < CLOSE_ENOUGH * (1 + Math.abs(intercept)))
      return { intercept, slope, slopeSe: Math.sqrt(at.w / determinant) }
  }
  return null
}

/** Log-likelihood of a line, its gradient (g, gx) and information (w, wx, wxx). */
function momentsAt(x: Float64Array, y: Float64Array, intercept: number, slope: number) {
  const at = { logLikelihood: 0, g: 0, gx: 0, w: 0, wx: 0, wxx: 0 }
  for (let i = 0; i < x.length; i++) {
    const z = intercept + slope * x[i]!
    const p = logistic(z)
    const w = p * (1 - p)
    at.logLikelihood += y[i]! * z - Math.max(z, 0) - Math.log1p(Math.exp(-Math.abs(z)))
    at.g += y[i]! - p
    at.gx += (y[i]! - p) * x[i]!
    at.w += w
    at.wx += w * x[i]!
    at.wxx += w * x[i]! ** 2
  }
  return at
}

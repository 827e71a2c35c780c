/**
 * Chances that what is sound now fails within a step, strand by strand of one life.
 *
 * Neighbouring strands mostly share their age, β and η, and δ with a strand before: logarithms and exponentials are
 * taken once.
 */
import { beginByOnsets } from './begin-developing'
import { cumulativeOnset, type LifeTables, logDevelopingRatio } from './life-table'
import { OLD_RATIO, type Strands } from './strands'

/** Up to this share of δ, a chance is integrated: table values subtracted would lose its digits. */
const SHORT_AGAINST_WARNING = 0.1

/** Gauss–Legendre on [0, 1], five points. */
const GL_X = [0.046910077030668, 0.23076534494715845, 0.5, 0.7692346550528415, 0.953089922969332]
const GL_W = [
  0.11846344252809454, 0.23931433524968324, 0.28444444444444444, 0.23931433524968324, 0.11846344252809454,
]

/** Where onsets are many, the integrand falls steeply somewhere: so many panels for the root of them. */
const PANELS_PER_ROOT = 2

/**
 * P(fails within `step` | sound now) of every strand.
 *
 * @param step effective clock units, 0 or more
 * @param into where they are written, by strand
 */
export function failsFromSound(
  strands: Strands,
  step: number,
  into = new Float64Array(strands.node.length),
): Float64Array {
  if (!(step > 0)) return into.fill(0)
  const { tables, node, age, onset, ratio } = strands
  const { shape, logScale, failRate } = tables
  let from = Number.NaN
  let beta = Number.NaN
  let place = Number.NaN
  let before = Number.NaN
  let logAge = 0
  let onsets = 0
  let integrand: Integrand | null = null
  for (let i = 0; i < node.length; i++) {
    const k = node[i]!
    if (age[i]! !== from) {
      from = age[i]!
      logAge = Math.log(from + step)
      beta = Number.NaN
    }
    if (shape[k]! !== beta || logScale[k]! !== place || onset[i]! !== before) {
      beta = shape[k]!
      place = logScale[k]!
      before = onset[i]!
      onsets = cumulativeOnset(tables, k, logAge) - before
      integrand = null
    }
    const decay = step * failRate[k]!
    if (decay < SHORT_AGAINST_WARNING) {
      integrand ??= begunUntil(tables, k, { age: from, step, before, onsets })
      into[i] = Math.max(failsByIntegral(integrand, decay), 0)
      continue
    }
    if (decay === Number.POSITIVE_INFINITY) {
      into[i] = Math.max(-Math.expm1(-onsets), 0)
      continue
    }
    // What was developing before and still is: where it is large, a difference of table values has no digits.
    const kept = ratio[i]! * Math.exp(-decay)
    const begins =
      kept > OLD_RATIO
        ? beginByOnsets(tables, k, from + step, before, onsets)
        : Math.exp(logDevelopingRatio(tables, k, logAge) - onsets) - kept
    into[i] = Math.min(Math.max(-Math.expm1(-onsets) - Math.max(begins, 0), 0), 1)
  }
  return into
}

/** By point of the rule: its weight times the share that has begun by then, and what is left of the step, of one. */
interface Integrand {
  panels: number
  begun: number[]
  left: number[]
}

/** @param onsets −log of the share of the sound that stay so over the whole step */
function begunUntil(
  tables: LifeTables,
  node: number,
  { age, step, before, onsets }: { age: number; step: number; before: number; onsets: number },
): Integrand {
  const panels = 1 + Math.floor(PANELS_PER_ROOT * Math.sqrt(Math.max(onsets, 0))) // a rounding may be below 0
  const [begun, left]: [number[], number[]] = [[], []]
  for (let panel = 0; panel < panels; panel++) {
    for (let i = 0; i < GL_X.length; i++) {
      const t = (panel + GL_X[i]!) / panels
      const onsetsThen = cumulativeOnset(tables, node, Math.log(age + step * t * t)) - before
      begun.push(-GL_W[i]! * 2 * t * Math.expm1(-onsetsThen))
      left.push(1 - t * t)
    }
  }
  return { panels, begun, left }
}

/**
 * P(fails | sound before) over a step short against δ: (1/δ)·∫ (1 − S_U(a+v)/S_U(a))·e^(−(Δ−v)/δ) dv, the form by
 * parts, which is positive; v = Δ·t² takes the root at age 0 away.
 */
function failsByIntegral({ panels, begun, left }: Integrand, decay: number): number {
  let integral = 0
  for (let i = 0; i < begun.length; i++) integral += begun[i]! * Math.exp(-decay * left[i]!)
  return (integral / panels) * decay
}

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
/** After so many onsets nothing sound is left (e^−40): what comes then is known without integrating. */
const ALL_BEGUN = 40

/**
 * P(fails within `step` | sound now) of every strand.
 *
 * @param step effective clock units, 0 or more
 * @param into where they are written, by strand
 */
export function failsFromSound(
  strands: Strands,
  step: number,
  into: Float64Array = new Float64Array(strands.node.length),
): Float64Array {
  if (!(step > 0)) return into.fill(0)
  const { tables, node, age, onset, ratio } = strands
  const { shape, logScale, failRate, rateOf } = tables
  let integral: ShortSteps | null = null
  let from = Number.NaN
  let beta = Number.NaN
  let place = Number.NaN
  let before = Number.NaN
  let logAge = 0
  let onsets = 0
  let isBegun = false
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
      isBegun = false
    }
    const decay = step * failRate[k]!
    if (decay < SHORT_AGAINST_WARNING) {
      integral ??= new ShortSteps(tables, step)
      if (!isBegun) integral.begin(k, from, before, onsets)
      isBegun = true
      into[i] = Math.max(integral.fails(rateOf[k]!), 0)
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

/**
 * P(fails | sound before) over a step short against δ: (1/δ)·∫ (1 − S_U(a+v)/S_U(a))·e^(−(Δ−v)/δ) dv, the form by
 * parts, which is positive; v = r·t² takes the root at age 0 away. From r on all have begun (r = Δ where they never do):
 * ∫ from r to Δ is 1 − e^(−(Δ−r)/δ).
 */
class ShortSteps {
  private points: RulePoints = rulePoints(1)
  private age = Number.NaN
  /** r, effective units. */
  private reach = Number.NaN
  /** By point: the logarithm of the age there, and the share that has begun by then times the point's weight. */
  private logAge: number[] = []
  private begun: number[] = []
  /** By δ: what is left, at the end of the step, of what fails at each point. */
  private left: number[][] = []

  constructor(
    private readonly tables: LifeTables,
    private readonly step: number,
  ) {}

  /** @param onsets −log of the share of the sound that stay so over the whole step */
  begin(node: number, age: number, before: number, onsets: number): void {
    const here = Math.min(Math.max(onsets, 0), ALL_BEGUN) // a rounding may be below 0
    const panels = 1 + Math.floor(PANELS_PER_ROOT * Math.sqrt(here))
    const reach = onsets > ALL_BEGUN ? this.untilAllBegun(node, age, before) : this.step
    if (panels !== this.points.panels || age !== this.age || reach !== this.reach)
      this.startAt(age, panels, reach)
    const { weight } = this.points
    for (let p = 0; p < weight.length; p++) {
      const onsetsThen = cumulativeOnset(this.tables, node, this.logAge[p]!) - before
      this.begun[p] = -weight[p]! * Math.expm1(-onsetsThen)
    }
  }

  /** Where (a/η)^β has grown by so much that all have begun. */
  private untilAllBegun(node: number, age: number, before: number): number {
    const { shape, logScale } = this.tables
    const then = Math.exp(logScale[node]! + Math.log(before + ALL_BEGUN) / shape[node]!)
    return Math.min(Math.max(then - age, 0), this.step)
  }

  private startAt(age: number, panels: number, reach: number): void {
    if (panels !== this.points.panels || reach !== this.reach) {
      this.points = rulePoints(panels)
      this.left = []
      this.begun = []
    }
    this.age = age
    this.reach = reach
    this.logAge = this.points.passed.map((share) => Math.log(age + reach * share))
  }

  /** @param rate which of the tables' distinct 1/δ */
  fails(rate: number): number {
    const { begun, points, reach, step } = this
    const pace = this.tables.rates[rate]!
    this.left[rate] ??= points.passed.map((share) => Math.exp(-pace * (step - reach * share)))
    const left = this.left[rate]
    let integral = 0
    for (let p = 0; p < left.length; p++) integral += begun[p]! * left[p]!
    return (integral / points.panels) * pace * reach - Math.expm1(-pace * (step - reach))
  }
}

/** Gauss–Legendre points on so many panels of [0, 1] in t: t², and the weight of dt² there. */
interface RulePoints {
  panels: number
  passed: number[]
  weight: number[]
}

const rules: RulePoints[] = []

function rulePoints(panels: number): RulePoints {
  const known = rules[panels]
  if (known) return known
  const places = Array.from({ length: panels }, (_, panel) => GL_X.map((x) => (panel + x) / panels)).flat()
  const weight = places.map((t, p) => GL_W[p % GL_W.length]! * 2 * t)
  const points = { panels, passed: places.map((t) => t * t), weight }
  rules[panels] = points
  return points
}

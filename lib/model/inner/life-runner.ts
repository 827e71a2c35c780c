/**
 * Runs packed lives forward: the logarithm of what is left of each, with its derivatives by ln η, ln β and ln δ.
 *
 * Kept per life, in units of S_U times the share that began sound: S = e^(−x) with x = (a/η)^β, and D = ρ·D₀, D₀ being
 * what would develop without any look. Of what develops at a₂ without looks the share T = e^(M(a₁) − M(a₂)) already
 * did at a₁, so a step is ρ₂ = ρ₁·T + (1 − T) and a look ρ ← λ·ρ: two table look-ups and one exponential a step, no
 * difference of near-equal numbers, nothing to overflow.
 */
import { logSum } from '../two-stage'
import { ROW } from './gathered-onsets'
import { Op, type PackedLives } from './packed-lives'

/** A value and its derivatives by ln η, ln β, ln δ. */
type Dual = Float64Array
const VALUE = 0
const PARTS = 4

/** Below this e^−d loses the digits of 1 − e^−d. */
const SMALL = 1e-3
/** Below this a difference of table values has no digits. */
const NO_DIGITS = 1e-10

export type LifeRunner = {
  /** What one life comes to under the parameters that are set; the array is reused. */
  run(life: number): Dual
  /** Its value alone, which takes half of the time. */
  value(life: number): number
  set(parameters: RunParameters): void
}

/** A table of M, filled for these parameters; `failRate` is 1/δ, Infinity where there is no warning. */
export type RunParameters = { table: Float64Array; shape: number; logScale: number; failRate: number }

export function lifeRunner(lives: PackedLives): LifeRunner {
  const { start, startOdds, op, age, logAge, cell, weights, odds } = lives
  const value = new Float64Array(PARTS)
  const rho = new Float64Array(PARTS)
  const gathered = new Float64Array(PARTS)
  const hazard = new Float64Array(PARTS)
  const term = new Float64Array(PARTS)
  const kept = new Float64Array(PARTS)
  let table: Float64Array = new Float64Array(0)
  let shape = 1
  let logScale = 0
  let failRate = 0

  return {
    run: (life) => run(life, passLooks),
    value: (life) => run(life, passLooksPlainly)[VALUE]!,
    set(parameters) {
      table = parameters.table
      shape = parameters.shape
      logScale = parameters.logScale
      failRate = parameters.failRate
    },
  }

  function run(life: number, pass: (i: number) => number): Dual {
    const first = start[life]!
    const end = start[life + 1]!
    const warns = failRate < Number.POSITIVE_INFINITY
    const o = startOdds[life]!
    value.fill(0)
    kept.fill(0)
    kept[VALUE] = Math.log1p(o)
    rho.fill(0)
    rho[VALUE] = warns ? 1 : 0
    if (warns) gather(first)
    if (o > 0) startDeveloping(o)
    apply(first)
    for (let i = first + 1; i < end; i++) {
      if (warns) i = pass(i)
      apply(i)
    }
    return value
  }

  /** M and its derivatives at a point. */
  function gather(i: number): void {
    const row = cell[i]! * ROW
    const w = 4 * i
    for (let part = 0; part < PARTS; part++) {
      const at = row + 2 * part
      const left = weights[w]! * table[at]! + weights[w + 1]! * table[at + 1]!
      gathered[part] = left + weights[w + 2]! * table[at + ROW]! + weights[w + 3]! * table[at + ROW + 1]!
    }
  }

  /** A life that began with a defect at age 0 reaches its first point. */
  function startDeveloping(o: number): void {
    const extra = o * Math.exp(-gathered[VALUE]!)
    rho[VALUE] = 1 + extra
    for (let part = 1; part < PARTS; part++) rho[part] = -extra * gathered[part]!
  }

  /**
   * From the point before `i` through all looks to the next point that is none. Nearly all time is spent here: the
   * four parts are numbers of their own, not an array.
   *
   * @returns that point
   */
  function passLooks(i: number): number {
    let m = gathered[VALUE]!
    let mScale = gathered[1]!
    let mShape = gathered[2]!
    let mStay = gathered[3]!
    let r = rho[VALUE]!
    let rScale = rho[1]!
    let rShape = rho[2]!
    let rStay = rho[3]!
    for (; ; i++) {
      const row = cell[i]! * ROW
      const next = row + ROW
      const w0 = weights[4 * i]!
      const w1 = weights[4 * i + 1]!
      const w2 = weights[4 * i + 2]!
      const w3 = weights[4 * i + 3]!
      const n = w0 * table[row]! + w1 * table[row + 1]! + w2 * table[next]! + w3 * table[next + 1]!
      const nScale =
        w0 * table[row + 2]! + w1 * table[row + 3]! + w2 * table[next + 2]! + w3 * table[next + 3]!
      const nShape =
        w0 * table[row + 4]! + w1 * table[row + 5]! + w2 * table[next + 4]! + w3 * table[next + 5]!
      const nStay =
        w0 * table[row + 6]! + w1 * table[row + 7]! + w2 * table[next + 6]! + w3 * table[next + 7]!
      const d = m - n
      if (r === 0 && d > -NO_DIGITS) {
        beginLate(i)
        r = rho[VALUE]!
        rScale = rho[1]!
        rShape = rho[2]!
        rStay = rho[3]!
      } else {
        const old = Math.exp(d)
        const excess = (r - 1) * old
        rScale = rScale * old + excess * (mScale - nScale)
        rShape = rShape * old + excess * (mShape - nShape)
        rStay = rStay * old + excess * (mStay - nStay)
        r = r * old + (d > -SMALL ? -Math.expm1(d) : 1 - old)
      }
      m = n
      mScale = nScale
      mShape = nShape
      mStay = nStay
      if (op[i] !== Op.look) break
      const by = odds[i]!
      r *= by
      rScale *= by
      rShape *= by
      rStay *= by
    }
    store(gathered, m, mScale, mShape, mStay)
    store(rho, r, rScale, rShape, rStay)
    return i
  }

  /** The same for the value alone; the derivatives are then of no meaning. */
  function passLooksPlainly(i: number): number {
    let m = gathered[VALUE]!
    let r = rho[VALUE]!
    for (; ; i++) {
      const row = cell[i]! * ROW
      const next = row + ROW
      const n =
        weights[4 * i]! * table[row]! +
        weights[4 * i + 1]! * table[row + 1]! +
        weights[4 * i + 2]! * table[next]! +
        weights[4 * i + 3]! * table[next + 1]!
      const d = m - n
      if (r === 0 && d > -NO_DIGITS) {
        beginLate(i)
        r = rho[VALUE]!
      } else {
        const old = Math.exp(d)
        r = r * old + (d > -SMALL ? -Math.expm1(d) : 1 - old)
      }
      m = n
      if (op[i] !== Op.look) break
      r *= odds[i]!
    }
    gathered[VALUE] = m
    rho[VALUE] = r
    return i
  }

  function store(into: Dual, a: number, b: number, c: number, d: number): void {
    into[VALUE] = a
    into[1] = b
    into[2] = c
    into[3] = d
  }

  /**
   * Found sound where hardly one still is, or a moment ago: what sets in after it, by the slope of M at the point
   * before, ln x − x + a/δ − M + ln β, and how that falls from there on.
   */
  function beginLate(i: number): void {
    readHazard(i - 1)
    gather(i - 1)
    const x = hazard[VALUE]!
    const logX = Math.log(x)
    const grown = age[i - 1]! * failRate
    const span = logAge[i]! - logAge[i - 1]!
    if (span === 0) {
      rho.fill(0)
      return
    }
    const falls = shape * (x - 1) - grown
    const spent = falls * span
    const flat = Math.abs(spent) < 1e-6
    const reach = flat ? span : -Math.expm1(-spent) / falls
    const byFalls = flat ? -span / 2 : span / Math.expm1(spent) - 1 / falls
    const fresh = Math.exp(Math.log(shape * reach) + logX - x + grown - gathered[VALUE]!)
    rho[VALUE] = fresh
    rho[1] = fresh * (shape * (x - 1) - gathered[1]! - byFalls * shape * shape * x)
    rho[2] = fresh * (1 + logX * (1 - x) - gathered[2]! + byFalls * shape * (x - 1 + x * logX))
    rho[3] = fresh * (-grown - gathered[3]! + byFalls * grown)
  }

  /** x and its derivatives at a point. */
  function readHazard(i: number): void {
    const logX = shape * (logAge[i]! - logScale)
    const x = Math.exp(logX)
    hazard[VALUE] = x
    hazard[1] = -shape * x
    hazard[2] = x * logX
  }

  function apply(i: number): void {
    switch (op[i]) {
      case Op.look:
        for (let part = 0; part < PARTS; part++) rho[part] = rho[part]! * odds[i]!
        return
      case Op.begin:
        begin(i)
        return
      case Op.enter:
        either(i)
        for (let part = 0; part < PARTS; part++) value[part] = -term[part]!
        return
      case Op.since:
        either(i)
        kept.set(term)
        return
    }
    read(i)
    for (let part = 0; part < PARTS; part++) value[part] = value[part]! + term[part]!
  }

  /** The mass that the life's value takes, into `term`. */
  function read(i: number): void {
    switch (op[i]) {
      case Op.takeDeveloping:
        developing(i)
        return
      case Op.takeSound:
        sound(i)
        return
      case Op.takeHazard:
        sound(i)
        addHazard(i)
        return
      case Op.takeLost:
        either(i)
        lose()
        return
      default:
        either(i)
    }
  }

  function begin(i: number): void {
    readHazard(i)
    const grown = age[i]! * failRate
    const developing = odds[i]! === 0 ? 0 : odds[i]! * Math.exp(grown - hazard[VALUE]! - gathered[VALUE]!)
    rho[VALUE] = developing
    for (let part = 1; part < PARTS; part++) rho[part] = -developing * (hazard[part]! + gathered[part]!)
    if (developing > 0) rho[3] = rho[3]! - developing * grown
    for (let part = 0; part < PARTS; part++) value[part] = value[part]! + hazard[part]!
  }

  /** ln S into `term`. */
  function sound(i: number): void {
    readHazard(i)
    for (let part = 0; part < PARTS; part++) term[part] = -hazard[part]!
  }

  /** ln D into `term`. */
  function developing(i: number): void {
    const grown = age[i]! * failRate
    for (let part = 1; part < PARTS; part++) term[part] = gathered[part]! + rho[part]! / rho[VALUE]!
    term[VALUE] = gathered[VALUE]! + Math.log(rho[VALUE]!) - grown
    term[3] = term[3]! + grown
  }

  /** ln(S + D) into `term`. */
  function either(i: number): void {
    if (rho[VALUE] === 0) {
      sound(i)
      return
    }
    developing(i)
    readHazard(i)
    const log = logSum(term[VALUE]!, -hazard[VALUE]!)
    const share = Math.exp(term[VALUE]! - log)
    for (let part = 1; part < PARTS; part++) term[part] = share * term[part]! - (1 - share) * hazard[part]!
    term[VALUE] = log
  }

  /** ln of what was kept less `term`, into `term`. */
  function lose(): void {
    const d = Math.min(term[VALUE]! - kept[VALUE]!, -Number.EPSILON)
    const left = 1 / Math.expm1(-d)
    for (let part = 1; part < PARTS; part++) term[part] = kept[part]! - left * (term[part]! - kept[part]!)
    term[VALUE] = kept[VALUE]! + Math.log(-Math.expm1(d))
  }

  /** ln of the onset hazard, onto `term`. */
  function addHazard(i: number): void {
    const logX = shape * (logAge[i]! - logScale)
    term[VALUE] = term[VALUE]! + Math.log(shape) + logX - logAge[i]!
    term[1] = term[1]! - shape
    term[2] = term[2]! + 1 + logX
  }
}

/**
 * The belief about one life, as weighted strands.
 *
 * A strand is one way the life may be: a parameter node and an age, with the mass of "sound" and of
 * "developing" that it carries. A part whose history is known has one strand a node; one whose history is
 * not known has a few (atoms of age). All strands of a life age by the same steps.
 */
import { beginByOnsets, beginOverShortStep } from './begin-developing'
import { cumulativeOnset, developingRatio, type LifeTables, logDevelopingRatio } from './life-table'

export interface Strands {
  tables: LifeTables
  node: Int32Array
  age: Float64Array
  sound: Float64Array
  developing: Float64Array
  /** −log S_U and D/S_U at the strand's age, kept from step to step. */
  onset: Float64Array
  ratio: Float64Array
}

/** One strand to begin with. */
export interface StrandStart {
  node: number
  age: number
  sound: number
  developing: number
}

/** What one step of ageing does to every strand: S' = S·stay, D' = D·keep + S·begin. */
export interface Transition {
  stay: Float64Array
  begin: Float64Array
  keep: Float64Array
}

/** Relative step (β·Δ/a) below which the onset hazard is taken as a straight line: no difference of table values. */
const SHORT_STEP = 0.001
/** The same where most that are not failed are developing already: the onsets to come weigh little. */
const OLD_SHORT_STEP = 0.1
/** Above this ratio the difference of table values has no digits left. */
export const OLD_RATIO = 0.7
/** Larger ratios are multiplied by what stays sound in logarithms. */
const LARGE = 1e100

export function makeStrands(tables: LifeTables, starts: readonly StrandStart[]): Strands {
  const strands: Strands = {
    tables,
    node: Int32Array.from(starts, (s) => s.node),
    age: Float64Array.from(starts, (s) => s.age),
    sound: Float64Array.from(starts, (s) => s.sound),
    developing: Float64Array.from(starts, (s) => s.developing),
    onset: new Float64Array(starts.length),
    ratio: new Float64Array(starts.length),
  }
  readTables(strands)
  return strands
}

function readTables({ tables, node, age, onset, ratio }: Strands): void {
  for (let i = 0; i < node.length; i++) {
    const logAge = Math.log(age[i]!)
    onset[i] = cumulativeOnset(tables, node[i]!, logAge)
    ratio[i] = developingRatio(tables, node[i]!, logAge)
  }
}

/** A copy with every age multiplied. */
export function scaleAges(strands: Strands, factor: number): Strands {
  const copy = copyStrands(strands)
  for (let i = 0; i < copy.age.length; i++) copy.age[i] = copy.age[i]! * factor
  readTables(copy)
  return copy
}

/** Puts every strand at another age without living through the difference: what is believed of its state stays. */
export function shiftAges(strands: Strands, shift: number): void {
  for (let i = 0; i < strands.age.length; i++) strands.age[i] = Math.max(strands.age[i]! + shift, 0)
  readTables(strands)
}

/** The strands that are worth following. */
export function selectStrands(strands: Strands, keep: (i: number) => boolean): Strands {
  const kept: number[] = []
  for (let i = 0; i < strands.node.length; i++) if (keep(i)) kept.push(i)
  const chosen = roomOf(strands.tables, new Int32Array(kept.length))
  for (let j = 0; j < kept.length; j++) {
    const i = kept[j]!
    chosen.node[j] = strands.node[i]!
    chosen.age[j] = strands.age[i]!
    chosen.sound[j] = strands.sound[i]!
    chosen.developing[j] = strands.developing[i]!
    chosen.onset[j] = strands.onset[i]!
    chosen.ratio[j] = strands.ratio[i]!
  }
  return chosen
}

/** A life that begins as another did: the ages and masses are its own. */
export function copyStrands(strands: Strands): Strands {
  const copy = roomOf(strands.tables, strands.node)
  copy.age.set(strands.age)
  copy.sound.set(strands.sound)
  copy.developing.set(strands.developing)
  copy.onset.set(strands.onset)
  copy.ratio.set(strands.ratio)
  return copy
}

function roomOf(tables: LifeTables, node: Int32Array): Strands {
  const rows = rowsOf(5, node.length)
  return {
    ...{ tables, node },
    ...{ age: rows[0]!, sound: rows[1]!, developing: rows[2]!, onset: rows[3]!, ratio: rows[4]! },
  }
}

export function makeTransition(size: number): Transition {
  const rows = rowsOf(3, size)
  return { stay: rows[0]!, begin: rows[1]!, keep: rows[2]! }
}

/** Numbers of an array that needs no memory of its own besides. */
const SMALL = 8

/** So many arrays of one length, in one piece of memory where they are not small: each piece has its price. */
function rowsOf(count: number, size: number): Float64Array[] {
  const rows: Float64Array[] = []
  const all = size > SMALL ? new Float64Array(count * size) : null
  for (let i = 0; i < count; i++) rows.push(all?.subarray(i * size, (i + 1) * size) ?? new Float64Array(size))
  return rows
}

/**
 * Ages every strand by `step` and writes what that does to the masses (which stay untouched).
 *
 * Source of the formulas: delay-time model (Christer & Waller 1984), conditional on the state before.
 *
 * @param step in effective clock units, 0 or more
 * @param oldRatio above this ratio of developing to sound what begins is integrated instead of subtracted: a larger one
 *   is faster, and leaves so many millionths of those who are sound uncertain
 * @param leastSound strands with less sound mass than this are not integrated: nothing begins there
 */
export function advance(
  strands: Strands,
  step: number,
  out: Transition,
  oldRatio = OLD_RATIO,
  leastSound = 0,
): void {
  if (!(step > 0)) {
    out.stay.fill(1)
    out.keep.fill(1)
    out.begin.fill(0)
    return
  }
  const { tables, node, age, onset, ratio } = strands
  const { shape, logScale, failRate } = tables
  // Neighbouring strands mostly share their age, β and η: logarithms and exponentials are taken once.
  let from = Number.NaN
  let beta = Number.NaN
  let place = Number.NaN
  let next = 0
  let logAge = 0
  let logGrowth = 0
  let growth = 0
  let before = 0
  let after = 0
  let stay = 0
  const keeps = keepsOver(tables, step)
  for (let i = 0; i < node.length; i++) {
    const k = node[i]!
    if (age[i]! !== from) {
      from = age[i]!
      next = from + step
      logAge = Math.log(next)
      logGrowth = logAge - Math.log(from)
      beta = Number.NaN
    }
    if (shape[k]! !== beta) {
      beta = shape[k]!
      growth = Math.exp(beta * logGrowth)
      place = Number.NaN
    }
    if (logScale[k]! !== place) {
      place = logScale[k]!
      before = onset[i]!
      // x grows as a^β; from age 0 there is nothing to grow.
      after = before > 0 ? before * growth : Math.exp(beta * (logAge - place))
      stay = Math.exp(before - after)
    }
    age[i] = next
    onset[i] = after
    out.stay[i] = stay
    const keep = keeps[tables.rateOf[k]!]!
    out.keep[i] = keep
    if (failRate[k]! === Number.POSITIVE_INFINITY) {
      out.begin[i] = 0
      continue
    }
    const ratioBefore = ratio[i]!
    const logRatio = logDevelopingRatio(tables, k, logAge)
    const ratioAfter = Math.exp(logRatio)
    ratio[i] = ratioAfter
    const turn = beta * step
    if (turn < SHORT_STEP * next || (ratioBefore > oldRatio && turn < OLD_SHORT_STEP * next))
      out.begin[i] = beginOverShortStep(
        after - before,
        step * failRate[k]!,
        ((beta - 1) * step) / (next - step / 2),
      )
    else if (ratioBefore > oldRatio)
      out.begin[i] =
        strands.sound[i]! < leastSound ? 0 : beginByOnsets(tables, k, next, before, after - before)
    else {
      const begun = ratioAfter < LARGE ? stay * ratioAfter : Math.exp(logRatio + before - after)
      out.begin[i] = Math.min(Math.max(begun - ratioBefore * keep, 0), 1 - stay)
    }
  }
}

/** e^(−Δ/δ) of every δ that the nodes have. */
function keepsOver({ rates, keeps }: LifeTables, step: number): Float64Array {
  for (let r = 0; r < rates.length; r++) keeps[r] = Math.exp(-step * rates[r]!)
  return keeps
}

/** What a transition would leave alive. */
export function aliveAfter(t: Transition, sound: Float64Array, developing: Float64Array): number {
  let alive = 0
  for (let i = 0; i < sound.length; i++) {
    alive += sound[i]! * (t.stay[i]! + t.begin[i]!) + developing[i]! * t.keep[i]!
  }
  return alive
}

/** Room for the masses of so many strands. */
export function makeMasses(size: number): Pick<Strands, 'sound' | 'developing'> {
  return { sound: new Float64Array(size), developing: new Float64Array(size) }
}

/**
 * What a transition leaves of masses that are first scaled and weighed.
 *
 * @param scale factor on all masses
 * @param odds evidence: factor on the odds of developing
 * @param into where the masses after it are written
 * @returns their sum
 */
export function liveThrough(
  t: Transition,
  { sound, developing }: Strands,
  scale: number,
  odds: number,
  into: Pick<Strands, 'sound' | 'developing'>,
): number {
  let alive = 0
  for (let i = 0; i < sound.length; i++) {
    const s = sound[i]! * scale
    const d = developing[i]! * scale * odds * t.keep[i]! + s * t.begin[i]!
    const stays = s * t.stay[i]!
    into.sound[i] = stays
    into.developing[i] = d
    alive += stays + d
  }
  return alive
}

/** Applies a transition to masses in place and returns what is still alive. */
export function applyTransition(t: Transition, sound: Float64Array, developing: Float64Array): number {
  let alive = 0
  for (let i = 0; i < sound.length; i++) {
    const s = sound[i]!
    const d = developing[i]! * t.keep[i]! + s * t.begin[i]!
    const stays = s * t.stay[i]!
    sound[i] = stays
    developing[i] = d
    alive += stays + d
  }
  return alive
}

/** Multiplies all masses so that they sum to 1; false where nothing is left. */
export function normalise(sound: Float64Array, developing: Float64Array): boolean {
  const total = sum(sound) + sum(developing)
  if (!(total > 0)) return false
  for (let i = 0; i < sound.length; i++) {
    sound[i] = sound[i]! / total
    developing[i] = developing[i]! / total
  }
  return true
}

export function sum(values: Float64Array): number {
  let total = 0
  for (let i = 0; i < values.length; i++) total += values[i]!
  return total
}

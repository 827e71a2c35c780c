/**
 * The renewal process of a part whose history is unknown: how old is it, when the vehicle shows x₀?
 *
 * P(original) = S_F(x₀), and density m(x₀ − a)·S_R(a) for a renewal at age a. The first life is the two-stage life
 * from new; every later one starts developing with chance π; where `renewEvery` is given, each life also ends at
 * that age.
 */
import { countRenewals, statesByAge } from './inner/renewal-equation'
import { cumulativeHazard, type TwoStage } from './two-stage'

export type RenewalGrid = {
  life: TwoStage
  /** Width of a cell, clock units; `renewEvery` is a whole number of cells. */
  step: number
  /** Renewals expected in cell i, from i·step to (i+1)·step. */
  renewals: Float64Array
  /** Renewals at exactly i·step because of `renewEvery`. */
  due: Float64Array
  /** P(developing) of an original part, and both masses of a renewed one, at ages of j half cells. */
  originalDeveloping: Float64Array
  renewedSound: Float64Array
  renewedDeveloping: Float64Array
  /** Every part is renewed at this age, clock units; infinite where `renewEvery` is null. */
  ageLimit: number
}

/** A part of one age, given that it has not failed. */
export type AgeAtom = {
  /** Age in clock units; for renewed parts the mean of the sound ones, as a developing part's future has no age. */
  age: number
  /** P(the part is of this atom); the weights sum to 1. */
  weight: number
  /** P(sound) and P(developing) within the atom, summing to 1. */
  sound: number
  developing: number
  /** Whether it is the part that the vehicle was built with. */
  original: boolean
}

/** What a grid is made for. */
export type RenewalOptions = {
  /** π, chance that a renewed part starts developing; taken as 0 where δ = 0. */
  startsDeveloping: number
  /** Age at which every part is renewed, clock units, or null. */
  renewEvery: number | null
  /** The largest x₀ that will be asked for, clock units. */
  upTo: number
  /** Cells within one spread of the life (about η/β); the error of M falls with its square. */
  resolution?: number
}

/** A shorter grid than this, in scales, serves as well for x₀ = 0. */
const SHORTEST = 1e-3
const FEWEST_CELLS = 60
const MOST_CELLS = 3000
const FEWEST_CELLS_A_LIFE = 8

/** Lighter atoms would change no score. */
const NEGLIGIBLE = 1e-6
/** Ages that differ by less, relative, are the same: a grid point is a product of doubles. */
const EPSILON = 1e-12

/**
 * Solves the renewal equation once, for every x₀ up to `upTo`.
 *
 * About n²/2 multiplications for n cells: well under a millisecond where x₀ is a few lives.
 */
export function renewalGrid(life: TwoStage, options: RenewalOptions): RenewalGrid {
  const step = stepOf(life, options)
  const cells = Math.ceil(options.upTo / step) + 1
  const ageLimit = options.renewEvery ?? Number.POSITIVE_INFINITY
  const cellsOfAge = Math.min(cells, Math.round(ageLimit / step))
  const startsDeveloping = life.pfMean > 0 ? options.startsDeveloping : 0
  const ages = statesByAge(life, step / 2, 2 * cellsOfAge, startsDeveloping)
  const renewed = countRenewals(ages, cells, Number.isFinite(ageLimit) ? cellsOfAge : 0)
  const { originalDeveloping, renewedSound, renewedDeveloping } = ages
  return { life, step, ...renewed, originalDeveloping, renewedSound, renewedDeveloping, ageLimit }
}

function stepOf({ scale, shape }: TwoStage, options: RenewalOptions): number {
  const { renewEvery, resolution = 20 } = options
  const upTo = Math.max(options.upTo, SHORTEST * scale)
  const wanted = scale / (Math.max(1, shape) * resolution)
  const step = Math.min(upTo / FEWEST_CELLS, Math.max(upTo / MOST_CELLS, wanted))
  if (renewEvery === null) return step
  return renewEvery / Math.max(FEWEST_CELLS_A_LIFE, Math.ceil(renewEvery / step))
}

/** Expected number of renewals by time t, 0 ≤ t ≤ `upTo`: the renewal function M. */
export function renewalFunction(grid: RenewalGrid, time: number): number {
  const position = time / grid.step
  const whole = Math.floor(position)
  let count = 0
  for (let i = 0; i < whole; i++) count += grid.renewals[i]! + grid.due[i + 1]!
  return count + (position - whole) * (grid.renewals[whole] ?? 0)
}

/**
 * The age of a part without records in a vehicle that shows `x0`, as a few weighted atoms.
 *
 * The original, of age x₀, is one atom. The renewed parts are cut into bins, each with its exact state masses and
 * its mean age: the chance of failing soon is then right to about 0.5 %, and to 6 % at worst (β < 0.8 or > 6).
 *
 * @param x0 0 to the grid's `upTo`, clock units
 * @param atMost largest number of atoms, at least 2
 */
export function ageAtoms(grid: RenewalGrid, x0: number, atMost = 8): AgeAtom[] {
  const original = originalAt(grid, x0)
  const stillThere = original.sound + original.developing
  const atoms = binsOf(renewedAges(grid, x0), atMost - 1)
  const renewed = atoms.reduce((sum, atom) => sum + atom.weight, 0)
  // The grid's own error is spread over the renewed parts, so that nothing is lost.
  for (const atom of atoms) atom.weight *= (1 - stillThere) / renewed
  if (stillThere > NEGLIGIBLE || atoms.length === 0) atoms.push(atomOf(x0, { ...original, original: true }))
  const total = atoms.reduce((sum, atom) => sum + atom.weight, 0)
  return atoms.map((atom) => ({ ...atom, weight: atom.weight / total }))
}

/** P(sound) and P(developing) of the original part at `age`; together P(it is still there). */
export function originalAt(grid: RenewalGrid, age: number): { sound: number; developing: number } {
  if (age > grid.ageLimit * (1 - EPSILON)) return { sound: 0, developing: 0 }
  const sound = Math.exp(-cumulativeHazard(age, grid.life))
  return { sound, developing: interpolate(grid.originalDeveloping, (2 * age) / grid.step) }
}

/** Renewed parts by age, oldest first; masses are joint with the state. */
export type RenewedAges = { age: Float64Array; sound: Float64Array; developing: Float64Array }

/**
 * The renewed parts of vehicles that show `x0`, cell by cell; with the original's, the masses sum to 1.
 *
 * Written for speed: it runs for every part of unknown history and every node.
 */
export function renewedAges(grid: RenewalGrid, x0: number): RenewedAges {
  const { step, renewals, due, ageLimit } = grid
  const first = Math.max(0, x0 - ageLimit)
  const most = 2 * Math.ceil((x0 - first) / step + 2)
  const age = new Float64Array(most)
  const sound = new Float64Array(most)
  const developing = new Float64Array(most)
  let count = 0
  const add = (old: number, mass: number) => {
    const position = (2 * old) / step
    age[count] = old
    sound[count] = mass * interpolate(grid.renewedSound, position)
    developing[count++] = mass * interpolate(grid.renewedDeveloping, position)
  }
  for (let i = Math.floor(first / step); i * step < x0; i++) {
    const from = Math.max(i * step, first)
    const to = Math.min((i + 1) * step, x0)
    add(x0 - (from + to) / 2, (renewals[i]! * (to - from)) / step)
    const sinceDue = x0 - (i + 1) * step
    if (due[i + 1]! > 0 && sinceDue > -EPSILON * x0 && sinceDue < ageLimit * (1 - EPSILON))
      add(Math.max(0, sinceDue), due[i + 1]!)
  }
  return {
    age: age.subarray(0, count),
    sound: sound.subarray(0, count),
    developing: developing.subarray(0, count),
  }
}

/**
 * Cuts renewed parts, ordered by age, into bins of equal summed √mass: between equal widths, which waste atoms on
 * ages that hardly occur, and equal masses, which lump the few old parts that fail next.
 */
function binsOf({ age, sound, developing }: RenewedAges, count: number): AgeAtom[] {
  const bins = Array.from({ length: count }, () => ({ sound: 0, developing: 0, aged: 0, agedSound: 0 }))
  let total = 0
  for (let i = 0; i < age.length; i++) total += Math.sqrt(sound[i]! + developing[i]!)
  if (total === 0) return []
  let before = 0
  for (let i = 0; i < age.length; i++) {
    const mass = sound[i]! + developing[i]!
    const root = Math.sqrt(mass)
    const bin = bins[Math.min(count - 1, Math.floor((count * (before + root / 2)) / total))]!
    before += root
    bin.sound += sound[i]!
    bin.developing += developing[i]!
    bin.aged += mass * age[i]!
    bin.agedSound += sound[i]! * age[i]!
  }
  return bins.flatMap((bin) => {
    const mass = bin.sound + bin.developing
    if (mass < NEGLIGIBLE) return []
    const meanAge = bin.sound > EPSILON * mass ? bin.agedSound / bin.sound : bin.aged / mass
    return [atomOf(meanAge, { sound: bin.sound, developing: bin.developing, original: false })]
  })
}

function atomOf(age: number, joint: { sound: number; developing: number; original: boolean }): AgeAtom {
  const weight = joint.sound + joint.developing
  return {
    age,
    weight,
    sound: joint.sound / weight,
    developing: joint.developing / weight,
    original: joint.original,
  }
}

function interpolate(table: Float64Array, position: number): number {
  const j = Math.min(Math.floor(position), table.length - 2)
  const share = position - j
  return table[j]! * (1 - share) + table[j + 1]! * share
}

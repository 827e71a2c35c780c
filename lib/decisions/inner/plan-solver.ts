/**
 * The choice of visits as a mixed-integer programme for HiGHS: a binary for each set of jobs of a vehicle in a place,
 * one set a vehicle, hours within the place. With weeks as places (their bays together) it is quick and bounds the plan;
 * with bays as places it is the plan itself. Synchronous: whoever cannot wait has it run in a process apart.
 */
import type { Highs, ModelData } from 'highs'
import { HOURS_SLACK } from '../plan-value'
import type { Bound, Forced } from './plan-bound'
import type { Choice } from './plan-choices'
import { type Candidate, type Ground, moneyOf, slotOf } from './plan-ground'

/** A set of jobs of a candidate in a place: a week, or a slot. */
export interface Column {
  candidate: number
  place: number
  week: number
  index: number
  choice: Choice
  money: number
}

export interface Programme {
  columns: Column[]
  /** By place. */
  hours: number[]
  forced: Forced
  /** At least so many stop jobs in all. */
  leastStops: number
  candidates: readonly Candidate[]
}

export type Solved =
  | { ok: true; chosen: Column[]; value: number; bound: number }
  | { ok: false; bound: number }

export interface SolverLimits {
  nodes: number
  seconds: number
  goOn: () => boolean
}

/** Columns with a week's bays together, or one by one. */
export function columnsOf(ground: Ground, apart: 'weeks' | 'bays', forced: Forced): Column[] {
  const { bays } = ground
  return ground.candidates.flatMap((candidate, c) =>
    candidate.choices.flatMap((choices, week) =>
      choices.flatMap((choice, index) => {
        if (forced.allStops[c] && choice.stops < candidate.stops) return []
        const money = moneyOf(ground, candidate, choice)
        const column = { candidate: c, week, index, choice, money }
        if (apart === 'weeks') return [{ ...column, place: week }]
        const slots = Array.from({ length: bays }, (_, bay) => slotOf(bays, week, bay))
        return slots
          .filter((slot) => candidate.allowed[slot] && choice.hours <= ground.free[slot]! + HOURS_SLACK)
          .map((place) => ({ ...column, place }))
      }),
    ),
  )
}

/**
 * Without the columns that no plan better than the best known can have: what a vehicle would lose by one, at the prices
 * of the bound, is more than the whole gap (reduced-cost fixing).
 */
export function worthTrying(
  columns: readonly Column[],
  { bound, hourPrices }: Bound,
  { there }: Forced,
  reached: number,
): Column[] {
  const reduced = (column: Column) => column.money - hourPrices[column.week]! * column.choice.hours
  const best = new Map<number, number>()
  for (const column of columns) {
    const known = best.get(column.candidate) ?? (there[column.candidate] ? Number.NEGATIVE_INFINITY : 0)
    best.set(column.candidate, Math.max(known, reduced(column)))
  }
  const gap = bound - reached + 1e-6 * Math.max(1, Math.abs(bound))
  return columns.filter((column) => best.get(column.candidate)! - reduced(column) <= gap)
}

/** The most stop jobs that can be planned, and a bound on it. */
export const mostStops = (highs: Highs, programme: Programme, limits: SolverLimits): Solved =>
  solve(highs, programme, limits, ({ choice }) => choice.stops)

/** The plan that gains most. */
export const mostMoney = (highs: Highs, programme: Programme, limits: SolverLimits): Solved =>
  solve(highs, programme, limits, ({ money }) => money)

function solve(
  highs: Highs,
  programme: Programme,
  limits: SolverLimits,
  worth: (column: Column) => number,
): Solved {
  if (programme.columns.length === 0) return { ok: true, chosen: [], value: 0, bound: 0 }
  const model = highs.createModel(modelOf(highs, programme, worth))
  try {
    // Kept talking: silenced, some builds lose their answer.
    model.options.set({
      output_flag: true,
      log_to_console: false,
      time_limit: limits.seconds,
      mip_max_nodes: limits.nodes,
      mip_rel_gap: 1e-6,
      random_seed: 1,
    })
    const { mipInterrupt } = highs.constants.callbackType
    model.run({
      [mipInterrupt](event) {
        if (!limits.goOn()) event.interrupt()
        return undefined
      },
    })
    const said = Number(model.info.get('mip_dual_bound'))
    const bound = Number.isFinite(said) ? said : Number.POSITIVE_INFINITY
    const status = model.getModelStatus()
    if (status === highs.constants.modelStatus.infeasible) return { ok: false, bound }
    const found = Number(model.info.get('primal_solution_status')) === 2
    if (!found) return { ok: false, bound }
    const { colValue } = model.getSolution()
    const chosen = programme.columns.filter((_, i) => colValue[i]! > 0.5)
    return { ok: true, chosen, value: chosen.reduce((sum, column) => sum + worth(column), 0), bound }
  } finally {
    model.dispose()
  }
}

/** Rows: one set a vehicle, hours of each place, and the stop jobs where so many are asked for. */
function modelOf(highs: Highs, programme: Programme, worth: (column: Column) => number): ModelData {
  const { columns, hours, forced, leastStops, candidates } = programme
  const stopsRow = candidates.length + hours.length
  const numRows = stopsRow + (leastStops > 0 ? 1 : 0)
  const starts = [0]
  const indices: number[] = []
  const values: number[] = []
  for (const { candidate, place, choice } of columns) {
    indices.push(candidate)
    values.push(1)
    if (choice.hours > 0) {
      indices.push(candidates.length + place)
      values.push(choice.hours)
    }
    if (leastStops > 0 && choice.stops > 0) {
      indices.push(stopsRow)
      values.push(choice.stops)
    }
    starts.push(indices.length)
  }
  const { infinity } = highs
  const offered = new Set(columns.map(({ candidate }) => candidate))
  const must = candidates.map((_, c) => (forced.there[c] && offered.has(c) ? 1 : 0))
  const least = leastStops > 0 ? [leastStops] : []
  return {
    numCols: columns.length,
    numRows,
    sense: highs.constants.objectiveSense.maximize,
    colCost: Float64Array.from(columns, worth),
    colLower: new Float64Array(columns.length),
    colUpper: new Float64Array(columns.length).fill(1),
    rowLower: Float64Array.from([...must, ...hours.map(() => -infinity), ...least]),
    rowUpper: Float64Array.from([...candidates.map(() => 1), ...hours, ...least.map(() => infinity)]),
    matrix: {
      format: 'csc',
      numRows,
      numCols: columns.length,
      starts: Int32Array.from(starts),
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
    },
    integrality: columns.map(() => highs.constants.variableType.integer),
  }
}

/** One forecaster's chances, judged by what happened. */
import { type BrierScore, brierScore } from './brier-score'
import { type CalibrationFit, calibration } from './calibration'
import { concordance } from './concordance'
import { decisionCurve, type NetBenefit } from './decision-curve'
import { type Bin, binned } from './forecasts'
import type { Fate, Outcome } from './outcomes'
import { type Interval, poissonInterval } from './poisson-interval'

/**
 * `product`: what was scored. `ages`: by the same parameters, as if nobody had ever looked at an engine. `library`: as
 * its author states, without learning. `mileage`, `intervals`: the plain rivals.
 */
export const FORECASTERS = ['product', 'ages', 'library', 'mileage', 'intervals'] as const
export type Forecaster = (typeof FORECASTERS)[number]
/** Whom the product is held against. */
export const RIVALS = ['ages', 'library', 'mileage', 'intervals'] as const
export type Rival = (typeof RIVALS)[number]

/** Something of each of them, by their names. */
export function byName<Name extends string, Value>(
  names: readonly Name[],
  of: (name: Name) => Value,
): Record<Name, Value> {
  // `fromEntries` forgets of which names it was made.
  return Object.fromEntries(names.map((name) => [name, of(name)])) as Record<Name, Value>
}

/** What was said of one component at one cut-off. */
export interface Said {
  unit: string
  family: string
  weakPoint: string
  position: number
  /** Day of the cut-off. */
  cutOff: number
  chances: Record<Forecaster, number>
  /** Whether the product advised to have it done. */
  booked: boolean
  /** What it costs done in time, and done after it failed. */
  planned: number
  unplanned: number
}

/** The same with what came. */
export type ReplayCase = Said & { outcome: Outcome }

/** Failures that were expected, and those that came. */
export interface Tally {
  components: number
  /** Sum of the chances, each for as long as it was put to the test. */
  expected: number
  /** Failures on record. */
  observed: number
  /** What parts that were opened and found going add: the chance that they would have failed. */
  imputed: number
  /** Parts that were renewed in a state that nobody noted: failures among them are not counted. */
  unnoted: number
  /** Of observed and imputed failures together; one that counts in several windows is one event. */
  interval: Interval
  /** Expected over observed and imputed; null where there were none. */
  ratio: number | null
}

/** A class of chances with the exact interval of the failures in it. */
export type JudgedBin = Bin & { interval: Interval }

export interface Judgement extends Tally {
  brier: BrierScore | null
  bins: JudgedBin[]
  calibration: CalibrationFit
  concordance: number | null
  netBenefit: NetBenefit[]
}

/** Classes of chances: most are small. */
const EDGES = [0, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1]
const THRESHOLDS = [0.01, 0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5]

export function judge(cases: readonly ReplayCase[], forecaster: Forecaster): Judgement {
  const { failed, after, chances } = columnsOf(cases)
  const forecasts = { chance: chancesTested(cases, forecaster), outcome: failed }
  return {
    ...tallyOf(cases, forecasts.chance),
    brier: brierScore(forecasts, EDGES),
    bins: judgedBins(cases, forecasts),
    calibration: calibration(forecasts),
    concordance: concordance({
      time: after,
      failed,
      risk: chances[forecaster],
    }).concordance,
    netBenefit: decisionCurve(forecasts, THRESHOLDS),
  }
}

function judgedBins(
  cases: readonly ReplayCase[],
  forecasts: { chance: Float64Array; outcome: Float64Array },
): JudgedBin[] {
  const { bins, binOf } = binned(forecasts, EDGES)
  const failing: ReplayCase[][] = bins.map(() => [])
  forecasts.outcome.forEach((failed, i) => {
    if (failed > 0) failing[binOf[i]!]!.push(cases[i]!)
  })
  return bins.map((bin, k) => ({ ...bin, interval: poissonInterval(eventsOf(failing[k]!)) }))
}

export const tally = (cases: readonly ReplayCase[], forecaster: Forecaster): Tally =>
  tallyOf(cases, chancesTested(cases, forecaster))

function tallyOf(cases: readonly ReplayCase[], chance: Float64Array): Tally {
  const expected = chance.reduce((sum, p) => sum + p, 0)
  const { failed, unnoted } = columnsOf(cases)
  const failing: ReplayCase[] = []
  failed.forEach((p, i) => {
    if (p > 0) failing.push(cases[i]!)
  })
  const [observed, imputed] = [failuresOf(failing, 'failed'), failuresOf(failing, 'developing')]
  return {
    components: cases.length,
    expected,
    observed,
    imputed,
    unnoted,
    interval: poissonInterval(eventsOf(failing)),
    ratio: observed + imputed > 0 ? expected / (observed + imputed) : null,
  }
}

/** Chances as far as they were put to the test: one ended after a share of its horizon pro rata of the hazard. */
export function chancesTested(cases: readonly ReplayCase[], forecaster: Forecaster): Float64Array {
  const { share, chances } = columnsOf(cases)
  return chances[forecaster].map((p, i) => (share[i] === 1 ? p : 1 - (1 - p) ** share[i]!))
}

/** Cases as columns of numbers. */
interface Columns {
  failed: Float64Array
  share: Float64Array
  /** Days from the cut-off to what came. */
  after: Float64Array
  chances: Record<Forecaster, Float64Array>
  /** How many were renewed in a state that nobody noted. */
  unnoted: number
}

/** Each forecaster is judged on the same cases: they are gone through once. */
const columns = new WeakMap<readonly ReplayCase[], Columns>()

/** @param cases not to be changed afterwards */
export function columnsOf(cases: readonly ReplayCase[]): Columns {
  const known = columns.get(cases)
  if (known) return known
  const room = () => new Float64Array(cases.length)
  const made = {
    failed: room(),
    share: room(),
    after: room(),
    chances: byName(FORECASTERS, room),
    unnoted: 0,
  }
  for (let i = 0; i < cases.length; i++) {
    const { chances, outcome, cutOff } = cases[i]!
    made.failed[i] = outcome.failed
    made.share[i] = outcome.share
    made.after[i] = outcome.on - cutOff
    if (outcome.fate === 'unnoted') made.unnoted++
    for (const name of FORECASTERS) made.chances[name][i] = chances[name]
  }
  columns.set(cases, made)
  return made
}

const failuresOf = (cases: readonly ReplayCase[], fate: Fate): number =>
  cases.reduce((sum, { outcome }) => (outcome.fate === fate ? sum + outcome.failed : sum), 0)

/** How often each single event counts: windows of several cut-offs may overlap. */
function eventsOf(failing: readonly ReplayCase[]): number[] {
  const events = new Map<string, number>()
  for (const one of failing) {
    const event = eventOf(one)
    events.set(event, (events.get(event) ?? 0) + one.outcome.failed)
  }
  return [...events.values()]
}

/** Failures, each once, however many windows it lies in; of one that is a chance, the largest that a window gives it. */
export function failuresApart(cases: readonly ReplayCase[]): number {
  const events = new Map<string, number>()
  for (const one of cases)
    if (one.outcome.failed > 0)
      events.set(eventOf(one), Math.max(events.get(eventOf(one)) ?? 0, one.outcome.failed))
  return [...events.values()].reduce((sum, failed) => sum + failed, 0)
}

const eventOf = ({ unit, weakPoint, position, outcome }: ReplayCase): string =>
  JSON.stringify([unit, weakPoint, position, outcome.on])

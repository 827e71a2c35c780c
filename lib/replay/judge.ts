/** One forecaster's chances, judged by what happened. */
import { type BrierScore, brierScore } from './brier-score'
import { type CalibrationFit, calibration } from './calibration'
import { concordance } from './concordance'
import { decisionCurve, type NetBenefit } from './decision-curve'
import { type Bin, binned, type Forecasts } from './forecasts'
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
  const outcome = numbersOf(cases, (each) => each.outcome.failed)
  const forecasts = { chance: chancesTested(cases, forecaster), outcome }
  return {
    ...tallyOf(cases, forecasts.chance),
    brier: brierScore(forecasts, EDGES),
    bins: judgedBins(cases, forecasts),
    calibration: calibration(forecasts),
    concordance: concordance({
      time: numbersOf(cases, (each) => each.outcome.on - each.cutOff),
      failed: outcome,
      risk: numbersOf(cases, (each) => each.chances[forecaster]),
    }).concordance,
    netBenefit: decisionCurve(forecasts, THRESHOLDS),
  }
}

function judgedBins(cases: readonly ReplayCase[], forecasts: Forecasts): JudgedBin[] {
  const { bins, binOf } = binned(forecasts, EDGES)
  const failing: ReplayCase[][] = bins.map(() => [])
  cases.forEach((one, i) => {
    if (one.outcome.failed > 0) failing[binOf[i]!]!.push(one)
  })
  return bins.map((bin, k) => ({ ...bin, interval: poissonInterval(eventsOf(failing[k]!)) }))
}

export const tally = (cases: readonly ReplayCase[], forecaster: Forecaster): Tally =>
  tallyOf(cases, chancesTested(cases, forecaster))

function tallyOf(cases: readonly ReplayCase[], chance: Float64Array): Tally {
  const expected = chance.reduce((sum, p) => sum + p, 0)
  const failing = cases.filter(({ outcome }) => outcome.failed > 0)
  const [observed, imputed] = [failuresOf(failing, 'failed'), failuresOf(failing, 'developing')]
  return {
    components: cases.length,
    expected,
    observed,
    imputed,
    unnoted: cases.filter(({ outcome }) => outcome.fate === 'unnoted').length,
    interval: poissonInterval(eventsOf(failing)),
    ratio: observed + imputed > 0 ? expected / (observed + imputed) : null,
  }
}

/** Chances as far as they were put to the test: one ended after a share of its horizon pro rata of the hazard. */
export const chancesTested = (cases: readonly ReplayCase[], forecaster: Forecaster): Float64Array =>
  numbersOf(cases, ({ chances, outcome: { share } }) =>
    share === 1 ? chances[forecaster] : 1 - (1 - chances[forecaster]) ** share,
  )

/** A number of each; `Float64Array.from` takes several times as long. */
function numbersOf(cases: readonly ReplayCase[], of: (one: ReplayCase) => number): Float64Array {
  const numbers = new Float64Array(cases.length)
  for (let i = 0; i < numbers.length; i++) numbers[i] = of(cases[i]!)
  return numbers
}

const failuresOf = (cases: readonly ReplayCase[], fate: Fate): number =>
  cases.reduce((sum, { outcome }) => (outcome.fate === fate ? sum + outcome.failed : sum), 0)

/** How often each single event counts: windows of several cut-offs may overlap. */
function eventsOf(failing: readonly ReplayCase[]): number[] {
  const events = new Map<string, number>()
  for (const one of failing) events.set(eventOf(one), (events.get(eventOf(one)) ?? 0) + one.outcome.failed)
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

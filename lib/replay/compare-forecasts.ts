/** Two forecasters at the same cut-offs: whose chances came closer to what happened, and how sure that is. */
import { chancesTested, columnsOf, type Forecaster, failuresApart, type ReplayCase } from './judge'
import type { Interval } from './poisson-interval'

/** How much an error fell from the first to the second: above 0 the second is better. */
export interface Gain {
  /** The mean error of each. */
  first: number
  second: number
  /** Mean over the forecasts. */
  mean: number
  /** 95 % interval; vehicles are drawn, not forecasts, because what is said of one vehicle hangs together. */
  interval: Interval
}

export interface Gains {
  /** −ln of the chance that was given to what happened. */
  logLoss: Gain
  /** Squared error (Brier 1950). */
  brier: Gain
}

/** Of two libraries. */
export interface Comparison extends Gains {
  /** Forecasts that both made, and the vehicles that they are about. */
  forecasts: number
  vehicles: number
  /** What one of the two made alone, and is not compared. */
  onlyFirst: number
  onlySecond: number
  /** Failures that came, as chances, each once whatever windows it lies in; of them most of the difference is made. */
  failures: number
}

/** Chances are kept this far from 0 and 1: what was held to be impossible costs much, not everything. */
const LEAST_CHANCE = 1e-6
/** Of the normal distribution, for 95 %. */
const QUANTILE = 1.959964

/** Compares what the product said under two libraries. Outcomes are those of the first: both must have been read alike. */
export function compareForecasts(first: readonly ReplayCase[], second: readonly ReplayCase[]): Comparison {
  const others = new Map(second.map((one) => [keyOf(one), one]))
  const pairs = first.flatMap((one) => {
    const other = others.get(keyOf(one))
    return other ? [{ one, other: { ...other, outcome: one.outcome } }] : []
  })
  const [ones, twos] = [pairs.map(({ one }) => one), pairs.map(({ other }) => other)]
  return {
    forecasts: pairs.length,
    vehicles: new Set(ones.map(({ unit }) => unit)).size,
    onlyFirst: first.length - pairs.length,
    onlySecond: second.length - pairs.length,
    failures: failuresApart(ones),
    ...gainsBetween(ones, chancesTested(ones, 'product'), chancesTested(twos, 'product')),
  }
}

/** What the product gains on another forecaster. */
export const gainsOn = (cases: readonly ReplayCase[], rival: Forecaster): Gains =>
  gainsBetween(cases, chancesTested(cases, rival), chancesTested(cases, 'product'))

function gainsBetween(cases: readonly ReplayCase[], first: Float64Array, second: Float64Array): Gains {
  const vehicles = new Map<string, number>()
  const vehicleOf = cases.map(({ unit }) => {
    const known = vehicles.get(unit) ?? vehicles.size
    vehicles.set(unit, known)
    return known
  })
  const { failed: outcome } = columnsOf(cases)
  const compared = (error: ErrorOf): Gain => {
    const [before, after] = [first, second].map((chance) => chance.map((p, i) => error(p, outcome[i]!)))
    const gains = before!.map((each, i) => each - after![i]!)
    return { first: mean(before!), second: mean(after!), ...gainOf(gains, vehicleOf, vehicles.size) }
  }
  return { logLoss: compared(logLoss), brier: compared(squared) }
}

const keyOf = ({ unit, family, weakPoint, position, cutOff }: ReplayCase): string =>
  JSON.stringify([unit, family, weakPoint, position, cutOff])

type ErrorOf = (chance: number, outcome: number) => number

/** Expected over what may have happened: an outcome is a chance where a part was opened before it could fail. */
const logLoss: ErrorOf = (chance, outcome) => {
  const p = Math.min(Math.max(chance, LEAST_CHANCE), 1 - LEAST_CHANCE)
  return -outcome * Math.log(p) - (1 - outcome) * Math.log(1 - p)
}

const squared: ErrorOf = (p, outcome) => outcome * (1 - p) ** 2 + (1 - outcome) * p ** 2

const mean = (values: Float64Array): number =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length

/**
 * A mean with its interval where values hang together within vehicles: the sums of the vehicles are what varies
 * (cluster-robust variance of a mean, Liang & Zeger 1986, Biometrika 73, 13–22, with n/(n − 1)).
 */
function gainOf(
  gains: Float64Array,
  vehicleOf: readonly number[],
  vehicles: number,
): Pick<Gain, 'mean' | 'interval'> {
  const all = mean(gains)
  const sums = new Float64Array(vehicles)
  gains.forEach((gain, i) => {
    sums[vehicleOf[i]!]! += gain - all
  })
  // JSON has no Infinity; of one vehicle nothing can be said.
  if (vehicles < 2) return { mean: all, interval: { low: -Number.MAX_VALUE, high: Number.MAX_VALUE } }
  const squares = sums.reduce((sum, value) => sum + value * value, 0)
  const sd = Math.sqrt((squares * vehicles) / (vehicles - 1)) / gains.length
  return { mean: all, interval: { low: all - QUANTILE * sd, high: all + QUANTILE * sd } }
}

export type Standing = 'too-few' | 'alike' | 'better' | 'worse'

/** With fewer failures than this, or fewer vehicles, an interval of this kind is not to be relied on. */
const FEWEST_FAILURES = 10
const FEWEST_VEHICLES = 10

/** Which is better, as far as these records can show. */
export function standingOf({ failures, vehicles, logLoss: { interval } }: Comparison): Standing {
  if (failures < FEWEST_FAILURES || vehicles < FEWEST_VEHICLES) return 'too-few'
  if (interval.low > 0) return 'better'
  return interval.high < 0 ? 'worse' : 'alike'
}

/**
 * The comparison in one sentence.
 *
 * @param name what the second is called, as a subject: "the draft"
 */
export function comparisonSentence(comparison: Comparison, name = 'the draft'): string {
  const { forecasts, onlyFirst, onlySecond, logLoss: loss, brier } = comparison
  const same = `On the same ${count(forecasts)} forecasts`
  const alone =
    onlyFirst + onlySecond > 0
      ? ` ${count(onlyFirst + onlySecond)} forecasts that one of the two makes alone are not compared.`
      : ''
  const share = (value: number) => percent(Math.abs(value) / loss.first)
  const ends = [loss.interval.low, loss.interval.high].map(Math.abs).sort((a, b) => a - b)
  const by = `its error is ${share(loss.mean)} ${loss.mean > 0 ? 'smaller' : 'larger'}, between ${share(ends[0]!)} and ${share(ends[1]!)}`
  const squaredError = `; squared error ${brier.second.toPrecision(3)} against ${brier.first.toPrecision(3)}`
  const said = {
    'too-few': `Too little has failed to say whether ${name} is better than the library in force.`,
    alike: `${same} there is no difference between ${name} and the library in force that these records can show.`,
    better: `${same} ${name} came closer to what happened than the library in force: ${by}${squaredError}.`,
    worse: `${same} ${name} was farther from what happened than the library in force: ${by}${squaredError}.`,
  }[standingOf(comparison)]
  return `${said}${alone}`
}

const count = (value: number): string => new Intl.NumberFormat('en').format(value)
const percent = (share: number): string =>
  new Intl.NumberFormat('en', { style: 'percent', maximumSignificantDigits: 2 }).format(share)

/** Mean squared error of chances, and what it is made of. */
import { type Bin, binned, type Forecasts } from './forecasts'

/** `score = reliability − resolution + uncertainty + withinBinVariance − withinBinCovariance`, exactly. */
export interface BrierScore {
  score: number
  /** How far the bins' mean forecasts lie from what was observed: 0 is best. */
  reliability: number
  /** How far the bins' outcomes lie from the overall rate: the more, the better. */
  resolution: number
  /** What any forecaster faces: rate · (1 − rate). */
  uncertainty: number
  /** What forecasts that differ within a bin add, and what they gain. */
  withinBinVariance: number
  withinBinCovariance: number
}

/**
 * The Brier score in parts (Murphy 1973, J. Appl. Meteorology 12, 595–600), with the two within-bin terms without
 * which the identity does not hold for forecasts that differ within a bin (Stephenson, Coelho & Jolliffe 2008).
 *
 * @param edges of the bins, ascending
 * @returns null where there is no case
 */
export function brierScore(forecasts: Forecasts, edges: readonly number[]): BrierScore | null {
  const { chance, outcome } = forecasts
  const count = chance.length
  if (count === 0) return null
  const { bins, binOf } = binned(forecasts, edges)
  const rate = meanOver(count, (i) => outcome[i]!)
  const deviation = (i: number): [number, number] => {
    const { meanForecast, observedRate } = bins[binOf[i]!]!
    return [chance[i]! - (meanForecast ?? 0), outcome[i]! - (observedRate ?? 0)]
  }
  return {
    score: meanOver(count, (i) => expectedSquare(chance[i]!, outcome[i]!)),
    reliability: overBins(
      bins,
      count,
      ({ meanForecast, observedRate }) => (meanForecast - observedRate) ** 2,
    ),
    resolution: overBins(bins, count, ({ observedRate }) => (observedRate - rate) ** 2),
    uncertainty: rate * (1 - rate),
    withinBinVariance: meanOver(count, (i) => deviation(i)[0] ** 2),
    withinBinCovariance: 2 * meanOver(count, (i) => deviation(i)[0] * deviation(i)[1]),
  }
}

/** E[(p − Y)²] where Y is 1 with chance y. */
const expectedSquare = (p: number, y: number): number => y * (1 - p) ** 2 + (1 - y) * p ** 2

function meanOver(count: number, of: (i: number) => number): number {
  let sum = 0
  for (let i = 0; i < count; i++) sum += of(i)
  return sum / count
}

type FilledBin = Bin & { meanForecast: number; observedRate: number }

const isFilled = (bin: Bin): bin is FilledBin => bin.count > 0

const overBins = (bins: readonly Bin[], count: number, of: (bin: FilledBin) => number): number =>
  bins.filter(isFilled).reduce((sum, bin) => sum + (bin.count / count) * of(bin), 0)

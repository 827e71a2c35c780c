/** Forecasts beside what then happened: what all measures take. */

/**
 * Chances and outcomes, by case. An outcome is 1 (it failed), 0 (it did not), or the chance in between that it would
 * have failed; measures are then their expectation over that chance.
 */
export interface Forecasts {
  chance: ArrayLike<number>
  outcome: ArrayLike<number>
}

/** One class of forecasts, [from, to); the last one holds its upper end. */
export interface Bin {
  from: number
  to: number
  count: number
  /** Mean of the chances, and of the outcomes; null where the bin is empty. */
  meanForecast: number | null
  observedRate: number | null
}

/**
 * Sorts forecasts into classes.
 *
 * @param edges ascending, one more than there are bins; what lies outside belongs to the first or last
 * @returns the bins, and the bin of each forecast
 */
export function binned(
  { chance, outcome }: Forecasts,
  edges: readonly number[],
): { bins: Bin[]; binOf: Int32Array } {
  const bins = edges.slice(1).map((to, k) => ({ from: edges[k]!, to, count: 0, forecast: 0, observed: 0 }))
  const binOf = new Int32Array(chance.length)
  for (let i = 0; i < binOf.length; i++) {
    let k = 0
    while (k < bins.length - 1 && !(chance[i]! < edges[k + 1]!)) k++
    binOf[i] = k
  }
  binOf.forEach((k, i) => {
    const bin = bins[k]!
    bin.count++
    bin.forecast += chance[i]!
    bin.observed += outcome[i]!
  })
  return {
    binOf,
    bins: bins.map(({ from, to, count, forecast, observed }) => ({
      from,
      to,
      count,
      meanForecast: count > 0 ? forecast / count : null,
      observedRate: count > 0 ? observed / count : null,
    })),
  }
}

/** A failure rate that changes in steps, counted on what was watched: what the plain rivals go by. */

/** A component watched over a stretch of some scale (odometer, or age of the part). */
export interface Stretch {
  from: number
  to: number
  /** Whether it failed at the end. */
  failed: boolean
}

/**
 * The rate between each two bounds: failures over distance, where the overall rate counts as one failure more, so
 * that a class in which nothing has failed yet is not held to be safe for ever.
 */
export class StepRates {
  private readonly rate: number[]

  /** @param bounds between the classes, ascending */
  constructor(
    stretches: readonly Stretch[],
    private readonly bounds: readonly number[],
  ) {
    const classes = Array.from({ length: bounds.length + 1 }, () => ({ failures: 0, watched: 0 }))
    let [failures, watched] = [0, 0]
    for (const { from, to, failed } of stretches) {
      classes.forEach((each, k) => {
        each.watched += this.within(k, from, to)
      })
      watched += Math.max(to - from, 0)
      if (!failed) continue
      failures++
      classes[this.classOf(to)]!.failures++
    }
    const overall = watched > 0 ? (failures + 0.5) / watched : 0
    this.rate = classes.map((each) => (overall > 0 ? (each.failures + 1) / (each.watched + 1 / overall) : 0))
  }

  /** P(fails between two points of the scale | at work at the first). */
  chance(from: number, to: number): number {
    const hazard = this.rate.reduce((sum, rate, k) => sum + rate * this.within(k, from, to), 0)
    return -Math.expm1(-hazard)
  }

  /** What fails at a bound was watched below it. */
  private classOf(x: number): number {
    const k = this.bounds.findIndex((bound) => x <= bound)
    return k < 0 ? this.bounds.length : k
  }

  /** How much of a stretch lies in a class. */
  private within(k: number, from: number, to: number): number {
    const low = this.bounds[k - 1] ?? Number.NEGATIVE_INFINITY
    const high = this.bounds[k] ?? Number.POSITIVE_INFINITY
    return Math.max(Math.min(to, high) - Math.max(from, low), 0)
  }
}

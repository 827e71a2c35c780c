/**
 * When parts begin to go, from what people who know them say: "of 100, 10 by 80,000 and 50 by 120,000". The answers are
 * points of a Weibull distribution of the onset, whose quantiles are what an author states.
 */

/** Of a hundred such parts, how many have begun to go by an age, in whatever unit the ages have. */
export type CountByAge = { age: number; ofHundred: number }

/** Quantiles of the onset, and by how many of 100 the curve misses the answer that it misses most. */
export type OnsetQuantiles = { p10: number; p50: number; p90: number; missesBy: number }

export type OnsetFromCounts =
  | ({ ok: true } & OnsetQuantiles)
  /** Fewer than two ages. */
  | { ok: false; reason: 'too-few' }
  /** Two answers for one age, or fewer at a later age than at an earlier one. */
  | { ok: false; reason: 'contradiction'; earlier: CountByAge; later: CountByAge }
  /** As many at every age. */
  | { ok: false; reason: 'flat' }
  /** Half would have begun less or more than so many times as late as the first in ten (`SPREAD`). */
  | { ok: false; reason: 'too-narrow' | 'too-wide'; spread: number }

/** How many times as late as the first in ten half of the parts may have begun: shapes of about 10 down to 0.5. */
export const SPREAD = { least: 1.2, largest: 43 }

/**
 * "None" and "all" of a hundred are read as half of one more or less: ln(−ln(1 − F)) has no end, and whoever says "none
 * of 100" means fewer than one. Of several "none" the latest counts, of several "all" the earliest, for the others
 * follow from it.
 */
const NONE = 0.5
const ALL = 100 - NONE

/** ln(−ln(1 − F)), which in a Weibull is β ln(age) − β ln η. */
const logHazard = (ofHundred: number) => Math.log(-Math.log1p(-ofHundred / 100))

const LOG_HAZARD = { tenth: logHazard(10), half: logHazard(50), nineTenths: logHazard(90) }

/**
 * The onset that such answers describe: through two of them exactly, close to more by least squares of ln(−ln(1 − F))
 * on ln(age), the straight line of a Weibull plot (Weibull 1951).
 *
 * @param answers in any order; ages above 0, counts from 0 to 100
 */
export function onsetFromCounts(answers: readonly CountByAge[]): OnsetFromCounts {
  const sorted = [...answers].sort((a, b) => a.age - b.age || a.ofHundred - b.ofHundred)
  const contradiction = firstContradiction(sorted)
  if (contradiction) return contradiction
  const told = withoutRepeats(sorted)
  if (told.length < 2) return { ok: false, reason: told.length < sorted.length ? 'flat' : 'too-few' }
  const line = straightLine(told.map(({ age, ofHundred }) => [Math.log(age), logHazard(ofHundred)]))
  if (line.slope <= 0) return { ok: false, reason: 'flat' }
  const ageAt = (height: number) => Math.exp((height - line.intercept) / line.slope)
  const [p10, p50, p90] = [
    ageAt(LOG_HAZARD.tenth),
    ageAt(LOG_HAZARD.half),
    ageAt(LOG_HAZARD.nineTenths),
  ] as const
  const spread = p50 / p10
  if (spread < SPREAD.least * (1 - ROUNDING)) return { ok: false, reason: 'too-narrow', spread }
  if (spread > SPREAD.largest * (1 + ROUNDING)) return { ok: false, reason: 'too-wide', spread }
  const misses = told.map(({ age, ofHundred }) => Math.abs(100 * begunBy({ p10, p50 }, age) - ofHundred))
  return { ok: true, p10, p50, p90, missesBy: Math.max(...misses) }
}

/** What is on the limit is within it. */
const ROUNDING = 1e-9

/** Two answers of which the later says fewer, or of which both are for one age; null where there are none. */
function firstContradiction(sorted: readonly CountByAge[]) {
  for (const [i, later] of sorted.entries()) {
    const earlier = sorted[i - 1]
    if (!earlier) continue
    const twice = earlier.age === later.age && earlier.ofHundred !== later.ofHundred
    if (twice || earlier.ofHundred > later.ofHundred)
      return { ok: false, reason: 'contradiction', earlier, later } as const
  }
  return null
}

/** The answers within what has a place on the line: an age once, of the "none" the latest, of the "all" the earliest. */
function withoutRepeats(sorted: readonly CountByAge[]): CountByAge[] {
  const within = sorted.map(({ age, ofHundred }) => ({
    age,
    ofHundred: Math.min(Math.max(ofHundred, NONE), ALL),
  }))
  return within.filter(({ age, ofHundred }, i) => {
    const [before, next] = [within[i - 1], within[i + 1]]
    if (before?.age === age) return false
    if (ofHundred === NONE && next?.ofHundred === NONE) return false
    return !(ofHundred === ALL && before?.ofHundred === ALL)
  })
}

/** Least squares of height on place. */
function straightLine(points: readonly (readonly [number, number])[]): { slope: number; intercept: number } {
  const mean = (of: (point: readonly [number, number]) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length
  const [place, height] = [mean(([x]) => x), mean(([, y]) => y)]
  const [across, together] = [mean(([x]) => (x - place) ** 2), mean(([x, y]) => (x - place) * (y - height))]
  const slope = together / across
  return { slope, intercept: height - slope * place }
}

/** The share of parts that have begun to go by an age: 1 − 2^−(age/p50)^β, the Weibull through both quantiles. */
export function begunBy({ p10, p50 }: { p10: number; p50: number }, age: number): number {
  if (age <= 0) return 0
  const shape = (LOG_HAZARD.half - LOG_HAZARD.tenth) / Math.log(p50 / p10)
  return -Math.expm1(-Math.LN2 * (age / p50) ** shape)
}

/** The age by which nine in ten have begun. */
export function ninetiethOf({ p10, p50 }: { p10: number; p50: number }): number {
  const perLog = Math.log(p50 / p10) / (LOG_HAZARD.half - LOG_HAZARD.tenth)
  return p50 * Math.exp(perLog * (LOG_HAZARD.nineTenths - LOG_HAZARD.half))
}

/**
 * Where "they begin between `from` and …" may end, so that its Weibull is within the limits: one in ten by `from`, nine
 * in ten by the end.
 */
export function endsOfRange(from: number): { least: number; largest: number } {
  const end = (spread: number) => ninetiethOf({ p10: from, p50: from * spread })
  return { least: end(SPREAD.least), largest: end(SPREAD.largest) }
}

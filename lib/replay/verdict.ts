/** Whether to trust the scores, and where not: a replay in one sentence. */
import type { Replay, WeakPointTally } from './replay'

/** With fewer failures than this, nothing can be said either way. */
const FEWEST_FAILURES = 10
/** A weak point with fewer is not named. */
const FEWEST_OF_ONE = 5
const MOST_NAMED = 3

export interface Verdict {
  /** `as-said`: what was expected lies within the exact interval of what came; else fewer or more came. */
  standing: 'too-few' | Standing
  /** Failures in the days that were looked at: of all windows, divided by how many of them overlap on average. */
  expected: number
  found: number
  /** Parts renewed in a state that nobody noted, likewise. */
  unnoted: number
  /** Weak points of which other than what was expected came, the farthest off first. */
  doubtful: { family: string; weakPoint: string; expected: number; found: number }[]
}

/**
 * In how many windows a day that was looked at lies, on average: fewer at both ends than between. What sums over all
 * windows say, divided by this, is what came (or was expected) in all these days.
 */
export function windowsOverlapping({
  cutOffs,
  every,
  days,
}: Pick<Replay, 'every' | 'days'> & { cutOffs: readonly unknown[] }): number {
  const count = Math.max(cutOffs.length, 1)
  return (count * days) / ((count - 1) * Math.min(every, days) + days)
}

/** Judges the product by a whole replay. */
export function verdictOf(replay: Replay): Verdict {
  const { overall } = replay
  const windows = windowsOverlapping(replay)
  const { product } = overall.judgements
  const found = (product.observed + product.imputed) / windows
  return {
    standing: found < FEWEST_FAILURES ? 'too-few' : standingOf(product),
    expected: product.expected / windows,
    found,
    unnoted: product.unnoted / windows,
    doubtful: overall.weakPoints
      .filter((one) => (one.observed + one.imputed) / windows >= FEWEST_OF_ONE && isOff(standingOf(one)))
      .sort((a, b) => distanceOf(b) - distanceOf(a))
      .slice(0, MOST_NAMED)
      .map(({ family, weakPoint, expected, observed, imputed }) => ({
        family,
        weakPoint,
        expected: expected / windows,
        found: (observed + imputed) / windows,
      })),
  }
}

type Judged = Pick<WeakPointTally, 'expected' | 'interval' | 'observed' | 'imputed'>

/**
 * Whether what was expected lies in the exact interval of what came; else fewer or more came. `untold`: fewer are on
 * record, but as many may have come, because of so many renewed parts nobody noted whether they had failed.
 */
export type Standing = 'as-said' | 'fewer' | 'more' | 'untold'

/** Whether what came speaks against what was said. */
export const isOff = (standing: Standing): boolean => standing === 'fewer' || standing === 'more'

export function standingOf({
  expected,
  interval,
  unnoted,
}: Pick<WeakPointTally, 'expected' | 'interval' | 'unnoted'>): Standing {
  if (expected < interval.low) return 'more'
  if (expected <= interval.high) return 'as-said'
  return expected <= interval.high + unnoted ? 'untold' : 'fewer'
}

/** How far what came lies from what was expected, in standard deviations of a count. */
export const distanceOf = ({ expected, observed, imputed }: Judged): number =>
  Math.abs(observed + imputed - expected) / Math.sqrt(Math.max(expected, 1))

/**
 * The verdict as a sentence for whoever runs the fleet.
 *
 * @param nameOf a weak point as people call it
 */
export function verdictSentence(
  { standing, expected, found, unnoted, doubtful }: Verdict,
  nameOf: (family: string, weakPoint: string) => string,
): string {
  const counts = `${inWords(expected)} failures expected, ${inWords(found)} found`
  const begun = {
    'too-few': `Too little has failed to say whether the scores can be trusted (${counts})`,
    'as-said': `The scores can be trusted: as much failed as they said (${counts})`,
    untold: `Whether the scores can be trusted cannot be told (${counts}): of ${inWords(unnoted)} renewed parts nobody noted what they showed, and failures among them are not counted`,
    fewer: `The scores were too high: less failed than they said (${counts})`,
    more: `The scores were too low: more failed than they said (${counts})`,
  }[standing]
  const named = doubtful.map(
    (one) =>
      `${nameOf(one.family, one.weakPoint)} (${inWords(one.expected)} expected, ${inWords(one.found)} found)`,
  )
  return named.length > 0 ? `${begun}; do not rely on them for ${listed(named)}.` : `${begun}.`
}

const inWords = (count: number): string =>
  new Intl.NumberFormat('en', { maximumFractionDigits: count < 10 ? 1 : 0 }).format(count)

const listed = (names: readonly string[]): string =>
  new Intl.ListFormat('en', { type: 'conjunction' }).format(names)

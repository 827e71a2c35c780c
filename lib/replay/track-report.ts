/** A replay in the figures that people are shown: totals are of days, whatever windows these lie in. */
import { type Day, parseDay } from '@/lib/units/dates'
import { byName, FORECASTERS, type Forecaster, RIVALS, type Rival, type Tally } from './judge'
import type { Money } from './money'
import type { Interval } from './poisson-interval'
import type { Replay } from './replay'
import { distanceOf, type Standing, standingOf, type Verdict, verdictOf, windowsOverlapping } from './verdict'

/** Expected against found, with the interval in which the mean of what was found lies. */
export interface Count {
  expected: number
  /** On record, and imputed for parts that were opened before they could fail. */
  recorded: number
  imputed: number
  found: number
  /** Parts renewed in a state that nobody noted. */
  unnoted: number
  low: number
  high: number
  /** How far the interval reaches below what was found, and above. */
  reach: [number, number]
  standing: Standing
  /** How far what was found lies from what was expected, in standard deviations of a count. */
  distance: number
}

export interface TrackReport {
  verdict: Verdict
  days: number
  cutOffs: ({ asOf: Day } & Count)[]
  /** In how many of them what was expected lies in the interval, and in how many it may. */
  within: number
  untold: number
  classes: ChanceClass[]
  /** Slope and its standard error, and what failed for each that was expected to; null where nothing could be fitted. */
  calibration: { slope: number; slopeSe: number; standing: 'as-said' | 'bold' | 'timid' } | null
  weakPoints: ({ family: string; weakPoint: string } & Count)[]
  forecasters: Record<Forecaster, OfForecaster>
  rivals: Record<Rival, AgainstRival>
}

/** The parts that were given about the same chance, and how many of them failed. */
export interface ChanceClass {
  from: number
  to: number
  /** Forecasts; a part counts at each cut-off. */
  count: number
  said: number
  came: number
  low: number
  high: number
  /** Where it stands on a logarithmic scale, which has no 0. */
  drawn: { said: number; came: number; reach: [number, number] }
}

export interface OfForecaster {
  count: Count
  brier: number | null
  reliability: number | null
  resolution: number | null
  /** Of two parts the share in which the one that failed sooner had the larger chance. */
  concordance: number | null
  slope: number | null
  /** Per thousand forecasts, acting on every chance of 1 in 20 or more. */
  netBenefit: number | null
  money: Money
}

/** The product beside one of its rivals. With too few failures for a verdict, nothing is said of which is better. */
export interface AgainstRival {
  /** Share by which its error (log loss) is smaller, with its interval; below 0 it is larger. */
  errorLess: { share: number; low: number; high: number }
  standing: 'too-few' | 'better' | 'worse' | 'alike'
  /** Failures that it would have prevented beyond the rival's, and money that it would have spent less. */
  preventedMore: number
  spentLess: number
}

/** A class with fewer parts than this says nothing. */
const LEAST_COUNT = 20
/** The chance above which the decision curve is read. */
const THRESHOLD = 0.05
const PER = 1000
/** What is less likely is drawn as this. */
const LEAST_DRAWN = 0.0005

export function trackReport(replay: Replay): TrackReport {
  const { overall, cutOffs, days } = replay
  const windows = windowsOverlapping(replay)
  const counts = cutOffs.map(({ asOf, judgements }) => ({
    asOf: parseDay(asOf) ?? 0,
    ...countOf(judgements.product, 1),
  }))
  const verdict = verdictOf(replay)
  return {
    verdict,
    days,
    cutOffs: counts,
    within: counts.filter(({ standing }) => standing === 'as-said').length,
    untold: counts.filter(({ standing }) => standing === 'untold').length,
    classes: chanceClasses(replay, 'product'),
    calibration: calibrationOf(replay, windows),
    weakPoints: overall.weakPoints.map((one) => ({
      family: one.family,
      weakPoint: one.weakPoint,
      ...countOf(one, windows),
    })),
    forecasters: byName(FORECASTERS, (name) => forecasterOf(replay, name, windows)),
    rivals: byName(RIVALS, (name) =>
      againstRival(replay, name, { windows, enough: verdict.standing !== 'too-few' }),
    ),
  }
}

function countOf(tally: Tally, windows: number): Count {
  const { expected, observed, imputed, unnoted, interval } = tally
  const found = (observed + imputed) / windows
  const [low, high] = [interval.low / windows, interval.high / windows]
  return {
    ...{ found, low, high },
    expected: expected / windows,
    recorded: observed / windows,
    imputed: imputed / windows,
    unnoted: unnoted / windows,
    reach: [found - low, high - found],
    standing: standingOf(tally),
    distance: distanceOf(tally),
  }
}

/** The classes of chances in which there are enough parts to say something, by whoever gave the chances. */
export const chanceClasses = ({ overall }: Replay, forecaster: Forecaster): ChanceClass[] =>
  overall.judgements[forecaster].bins.flatMap(({ from, to, count, meanForecast, observedRate, interval }) =>
    count >= LEAST_COUNT && meanForecast !== null && observedRate !== null
      ? [
          {
            ...{ from, to, count, said: meanForecast, came: observedRate },
            ...rates(interval, count),
            drawn: drawnAt(meanForecast, observedRate, rates(interval, count)),
          },
        ]
      : [],
  )

const rates = ({ low, high }: Interval, count: number): Interval => ({
  low: low / count,
  high: Math.min(high / count, 1),
})

function drawnAt(said: number, came: number, { low, high }: Interval): ChanceClass['drawn'] {
  const place = (chance: number) => Math.max(chance, LEAST_DRAWN)
  return {
    said: place(said),
    came: place(came),
    reach: [place(came) - place(low), place(high) - place(came)],
  }
}

/** Windows overlap, so that forecasts hang together: the standard error is that of as many as do not. */
function calibrationOf({ overall }: Replay, windows: number): TrackReport['calibration'] {
  const { calibration } = overall.judgements.product
  if (!calibration.ok) return null
  const { slope } = calibration
  const slopeSe = calibration.slopeSe * Math.sqrt(windows)
  const off = Math.abs(slope - 1) > 1.96 * slopeSe
  return { slope, slopeSe, standing: off ? (slope < 1 ? 'bold' : 'timid') : 'as-said' }
}

function forecasterOf({ overall }: Replay, name: Forecaster, windows: number): OfForecaster {
  const judgement = overall.judgements[name]
  const { brier, calibration, concordance, netBenefit } = judgement
  const acting = netBenefit.find(({ threshold }) => threshold === THRESHOLD)
  const { jobs, visits, planned, prevented, unplanned, spent } = overall.money[name]
  return {
    count: countOf(judgement, windows),
    brier: brier?.score ?? null,
    reliability: brier?.reliability ?? null,
    resolution: brier?.resolution ?? null,
    concordance,
    slope: calibration.ok ? calibration.slope : null,
    netBenefit: acting ? acting.netBenefit * PER : null,
    money: {
      jobs: jobs / windows,
      visits: visits / windows,
      planned: planned / windows,
      prevented: prevented / windows,
      unplanned: unplanned / windows,
      spent: spent / windows,
    },
  }
}

function againstRival(
  { overall }: Replay,
  name: Rival,
  { windows, enough }: { windows: number; enough: boolean },
): AgainstRival {
  const { first, mean, interval } = overall.gains[name].logLoss
  const share = (gain: number) => (first > 0 ? gain / first : 0)
  const [ours, theirs] = [overall.money.product, overall.money[name]]
  return {
    errorLess: { share: share(mean), ...within(interval, share) },
    standing: enough ? standingAgainst(interval) : 'too-few',
    preventedMore: (ours.prevented - theirs.prevented) / windows,
    spentLess: (theirs.spent - ours.spent) / windows,
  }
}

function standingAgainst({ low, high }: Interval): AgainstRival['standing'] {
  if (low > 0) return 'better'
  return high < 0 ? 'worse' : 'alike'
}

const within = ({ low, high }: Interval, of: (value: number) => number): Interval => ({
  low: of(low),
  high: of(high),
})

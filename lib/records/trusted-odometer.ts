import { longestTrustedChain } from '@/lib/model/trusted-chain'
import type { Day } from '@/lib/units/dates'
import { countUpTo } from './inner/interpolate'
import type { ClusterGuess } from './inner/odometer-judge'
import { labelDistrusted } from './inner/odometer-labels'
import {
  knownClusters,
  type OdometerCause,
  type OdometerPoint,
  odometersOnRecord,
} from './inner/odometer-points'
import { type SecondSource, secondSource } from './inner/parallel-sources'
import type { VehicleRow } from './rows'
import type { VehicleRecords } from './vehicle-records'

export type { OdometerCause, OdometerPoint }

/** What only a person can answer. */
export type OdometerQuestion =
  | ({ kind: 'two sources' } & SecondSource)
  | ({ kind: 'cluster replacement' } & ClusterGuess)

export interface Odometer {
  /** What was known by this day. */
  upTo: Day
  /** Every odometer on record, in order of (day, km); none is ever left out. */
  points: OdometerPoint[]
  /** The trusted ones, one a day: days strictly ascending, km never falling. */
  trusted: { day: Float64Array; km: Float64Array }
  /** The day on which it stood at 0 km: put into service, or built. Null where not known or not credible. */
  startOn: Day | null
  questions: OdometerQuestion[]
}

export interface TrustOptions {
  capKmPerDay: number
  /** Nothing dated or entered after this day counts. */
  upTo: Day
  /** The unit of another vehicle that a reading fits on that day (`swappedWith`); only labels use it. */
  fitsAnother?: (day: Day, km: number) => string | null
}

/**
 * Decides which of a vehicle's odometers to trust, over all files.
 *
 * Trusted is the largest set with 0 ≤ Δkm ≤ cap · Δday between any two; among equally large ones that which
 * holds the latest readings (`longestTrustedChain`). Readings of one day that are equal count once, so that a
 * figure copied into five rows of one visit has one vote. Closer than the cap to the trusted one of its day a
 * reading is "same day", everything else distrusted, with its likeliest cause. Nothing is deleted.
 */
export function trustOdometer(records: VehicleRecords, options: TrustOptions): Odometer {
  const { capKmPerDay, upTo } = options
  const points = odometersOnRecord(records, upTo)
  let trusted = chainOf(points, capKmPerDay)
  judge(points, trusted, capKmPerDay)
  const second = secondSource(points, capKmPerDay)
  if (second) {
    const others = points.filter((point) => point.source !== second.source)
    trusted = chainOf(others, capKmPerDay)
    judge(points, trusted, capKmPerDay)
  }
  const unlabelled: OdometerPoint[] = []
  for (const point of points) {
    if (point.verdict !== 'distrusted') continue
    if (second && point.source === second.source) point.cause = 'second source'
    else unlabelled.push(point)
  }
  const clusters = labelDistrusted(unlabelled, {
    trusted,
    clusterDays: clusterDaysToConfirm(records, upTo),
    fitsAnother: options.fitsAnother,
  })
  const questions: OdometerQuestion[] = clusters.map((guess) => ({ kind: 'cluster replacement', ...guess }))
  if (second) questions.push({ kind: 'two sources', ...second })
  return { upTo, points, trusted, startOn: startOf(records.vehicle, trusted, options), questions }
}

/** Days on which a new instrument cluster is on record whose offset nobody has stated. */
const clusterDaysToConfirm = ({ changes }: VehicleRecords, upTo: Day): Day[] =>
  knownClusters(changes, upTo).flatMap((row) => (row.offsetKm === null ? row.on : []))

/** The longest chain of readings in order of (day, km), each day once. */
function chainOf(points: OdometerPoint[], capKmPerDay: number): Odometer['trusted'] {
  const distinct = points.filter((point, i) => {
    const previous = points[i - 1]
    return previous?.day !== point.day || previous.km !== point.km
  })
  const day = Float64Array.from(distinct, (point) => point.day)
  const km = Float64Array.from(distinct, (point) => point.km)
  const chain = longestTrustedChain(day, km, capKmPerDay)
  return { day: Float64Array.from(chain, (i) => day[i]!), km: Float64Array.from(chain, (i) => km[i]!) }
}

function judge(points: OdometerPoint[], trusted: Odometer['trusted'], capKmPerDay: number): void {
  for (const point of points) point.verdict = verdictOn(point, trusted, capKmPerDay)
}

function verdictOn(
  point: OdometerPoint,
  trusted: Odometer['trusted'],
  capKmPerDay: number,
): OdometerPoint['verdict'] {
  const k = countUpTo(trusted.day, point.day) - 1
  if (k < 0 || trusted.day[k] !== point.day) return 'distrusted'
  const gap = Math.abs(trusted.km[k]! - point.km)
  if (gap === 0) return 'trusted'
  return gap < capKmPerDay ? 'same-day' : 'distrusted'
}

/** The day at 0 km, unless the first trusted reading could not have been reached from there. */
function startOf(
  vehicle: VehicleRow,
  trusted: Odometer['trusted'],
  { capKmPerDay, upTo }: TrustOptions,
): Day | null {
  const startOn = vehicle.inServiceOn ?? vehicle.builtOn
  if (startOn === null || startOn > upTo) return null
  const [firstDay, firstKm] = [trusted.day[0], trusted.km[0]]
  if (firstDay === undefined || firstKm === undefined) return startOn
  return startOn < firstDay && firstKm <= capKmPerDay * (firstDay - startOn) ? startOn : null
}

import { longestTrustedChain } from '@/lib/model/trusted-chain'
import type { Day } from '@/lib/units/dates'
import { countUpTo } from './inner/interpolate'
import { type ClusterGuess, labelDistrusted, type OdometerCause } from './inner/odometer-labels'
import { knownClusters, type OdometerEntry, odometersOnRecord } from './inner/odometer-points'
import { type SecondSource, secondSource } from './inner/parallel-sources'
import type { VehicleRow } from './rows'
import type { VehicleRecords } from './vehicle-records'

export type { OdometerCause }

/** An odometer on record, with what is made of it. `cause` is null unless it is distrusted. */
export interface OdometerPoint extends OdometerEntry {
  verdict: 'trusted' | 'same-day' | 'distrusted'
  cause: OdometerCause | null
}

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
  /** The unit of another vehicle whose odometer a reading fits on that day (`swappedWith`); only labels use it. */
  fitsAnother?: (day: Day, km: number) => string | null
}

/** Two sources side by side leave more than this share distrusted. */
const FEW_DISTRUSTED = 0.1

/**
 * Decides which of a vehicle's odometers to trust, over all files.
 *
 * Trusted is the largest set with 0 ≤ Δkm ≤ cap · Δday between any two; among equally large ones that which holds
 * the latest readings (`longestTrustedChain`). Readings of one day that are equal count once, so that a figure
 * copied into five rows of one visit has one vote. Closer than the cap to the trusted one of its day a reading
 * is "same day", everything else distrusted, with its likeliest cause. Nothing is deleted.
 */
export function trustOdometer(records: VehicleRecords, options: TrustOptions): Odometer {
  const { capKmPerDay, upTo, fitsAnother } = options
  const entries = odometersOnRecord(records, upTo)
  const all = chainOf(entries, capKmPerDay)
  const doubtful = entries.filter((entry) => verdictOn(entry, all, capKmPerDay) === 'distrusted').length
  const second = doubtful > FEW_DISTRUSTED * entries.length ? secondSource(entries, capKmPerDay) : null
  const isSecond = (entry: OdometerEntry) => second !== null && entry.source === second.source
  const trusted = second
    ? chainOf(
        entries.filter((entry) => !isSecond(entry)),
        capKmPerDay,
      )
    : all

  const points = entries.map((entry): OdometerPoint => {
    const verdict = verdictOn(entry, trusted, capKmPerDay)
    return { ...entry, verdict, cause: verdict === 'distrusted' && isSecond(entry) ? 'second source' : null }
  })
  const unlabelled = points.filter((point) => point.verdict === 'distrusted' && point.cause === null)
  const clusterDays = knownClusters(records.changes, upTo).flatMap((row) =>
    row.offsetKm === null ? row.on : [],
  )
  const { causes, clusters } = labelDistrusted(unlabelled, { trusted, clusterDays, fitsAnother })
  unlabelled.forEach((point, k) => {
    point.cause = causes[k] ?? null
  })
  const questions: OdometerQuestion[] = clusters.map((guess) => ({ kind: 'cluster replacement', ...guess }))
  if (second) questions.push({ kind: 'two sources', ...second })
  return { upTo, points, trusted, startOn: startOf(records.vehicle, trusted, options), questions }
}

/** The longest chain of readings in order of (day, km), each day once. */
function chainOf(entries: OdometerEntry[], capKmPerDay: number): Odometer['trusted'] {
  const distinct = entries.filter((entry, i) => {
    const previous = entries[i - 1]
    return previous?.day !== entry.day || previous.km !== entry.km
  })
  const day = Float64Array.from(distinct, (entry) => entry.day)
  const km = Float64Array.from(distinct, (entry) => entry.km)
  const chain = longestTrustedChain(day, km, capKmPerDay)
  return { day: Float64Array.from(chain, (i) => day[i]!), km: Float64Array.from(chain, (i) => km[i]!) }
}

function verdictOn(
  entry: OdometerEntry,
  trusted: Odometer['trusted'],
  capKmPerDay: number,
): OdometerPoint['verdict'] {
  const k = countUpTo(trusted.day, entry.day) - 1
  if (k < 0 || trusted.day[k] !== entry.day) return 'distrusted'
  const gap = Math.abs(trusted.km[k]! - entry.km)
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

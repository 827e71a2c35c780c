import { medianOfAscending } from '@/lib/model/median'
import { longestTrustedChain } from '@/lib/model/trusted-chain'
import type { Day } from '@/lib/units/dates'
import { interpolate } from './interpolate'
import type { OdometerPoint } from './odometer-points'

/** A source with a count of its own beside the instrument, as a tracker has from its installation. */
export interface SecondSource {
  source: string
  /** Median of (its reading − the others' at that time). */
  differenceKm: number
  fromDay: Day
  toDay: Day
}

const FEWEST = 3
const LEAST_DAYS = 30
const LEAST_DIFFERENCE_KM = 500
/** A source agrees with itself when so many of its readings form one chain. */
const OWN_SHARE = 0.8
/** The difference is steady when no reading departs from its median by more than this share of it. */
const STEADY_SHARE = 0.2

/** Of many names on the readings (drivers, say) only the most frequent can be a source of its own. */
const MOST_SOURCES = 8

/**
 * Finds a named source whose readings agree among themselves and run beside all others at a steady distance.
 *
 * Two such sources are asked about, not voted on: whichever reports more often would win every vote. Until
 * somebody answers, the readings without a named source count (people read the instrument), and of two named
 * sources the higher one (a tracker starts at its installation).
 *
 * @param points a vehicle's odometers in time order, with the verdict of the vote.
 */
export function secondSource(points: OdometerPoint[], capKmPerDay: number): SecondSource | null {
  const groups = bySource(points).filter(([, group]) => group.length >= FEWEST)
  if (groups.length < 2 || !groups.some(([, group]) => isOutvoted(group))) return null
  const found = groups
    .sort(([, a], [, b]) => b.length - a.length)
    .slice(0, MOST_SOURCES)
    .flatMap(([source]) => (source === null ? [] : (besideTheRest(points, source, capKmPerDay) ?? [])))
  return found.sort((a, b) => a.differenceKm - b.differenceKm)[0] ?? null
}

function bySource(points: OdometerPoint[]): [source: string | null, group: OdometerPoint[]][] {
  const groups = new Map<string | null, OdometerPoint[]>()
  for (const point of points) {
    const group = groups.get(point.source)
    if (group) group.push(point)
    else groups.set(point.source, [point])
  }
  return [...groups]
}

const isOutvoted = (group: OdometerPoint[]): boolean =>
  group.filter((point) => point.verdict === 'distrusted').length > group.length / 2

function besideTheRest(points: OdometerPoint[], source: string, capKmPerDay: number): SecondSource | null {
  const isOwn = (point: OdometerPoint) => point.source === source
  const own = agreeing(points.filter(isOwn), capKmPerDay)
  const rest = agreeing(
    points.filter((point) => !isOwn(point)),
    capKmPerDay,
  )
  if (!own || !rest) return null
  const [firstDay, lastDay] = [rest.x[0]!, rest.x.at(-1)!]
  const shared = own.x.flatMap((day, i) => (day >= firstDay && day <= lastDay ? { day, km: own.y[i]! } : []))
  const [from, to] = [shared[0], shared.at(-1)]
  if (!from || !to || shared.length < FEWEST || to.day - from.day < LEAST_DAYS) return null
  const differences = shared.map(({ day, km }) => km - interpolate(rest, day)).sort((a, b) => a - b)
  const differenceKm = medianOfAscending(differences)
  const size = Math.abs(differenceKm)
  const isSteady = differences.every((one) => Math.abs(one - differenceKm) <= STEADY_SHARE * size)
  if (!isSteady || size < LEAST_DIFFERENCE_KM) return null
  return { source, differenceKm, fromDay: from.day, toDay: to.day }
}

/** The longest chain of some readings, one a day, where it holds nearly all of them. */
function agreeing(points: OdometerPoint[], capKmPerDay: number): { x: number[]; y: number[] } | null {
  if (points.length < FEWEST) return null
  const x = points.map((point) => point.day)
  const y = points.map((point) => point.km)
  const chain = longestTrustedChain(x, y, capKmPerDay)
  if (chain.length < OWN_SHARE * points.length) return null
  const daily = Array.from(chain).filter((i, k) => k === 0 || x[i] !== x[chain[k - 1]!])
  return { x: daily.map((i) => x[i]!), y: daily.map((i) => y[i]!) }
}

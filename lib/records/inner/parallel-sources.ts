import { medianOfAscending } from '@/lib/model/median'
import { longestTrustedChain } from '@/lib/model/trusted-chain'
import type { Day } from '@/lib/units/dates'
import { interpolate, type Line } from './interpolate'
import type { OdometerEntry } from './odometer-points'

/** A source that counts a distance of its own beside the instrument, as a tracker does from its installation. */
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

/**
 * Finds a named source whose readings agree among themselves and run beside all others at a steady distance.
 *
 * Two such sources are asked about, not voted on: whichever reports more often would win every vote. Until somebody
 * answers, the readings without a named source count (people read the instrument), and of two named sources the
 * higher one (a tracker starts at its installation).
 */
export function secondSource(entries: OdometerEntry[], capKmPerDay: number): SecondSource | null {
  const names = new Set(entries.map((entry) => entry.source))
  if (names.size < 2) return null
  const found: SecondSource[] = []
  for (const source of names) {
    const second = source === null ? null : besideTheRest(entries, source, capKmPerDay)
    if (second) found.push(second)
  }
  return found.sort((a, b) => a.differenceKm - b.differenceKm)[0] ?? null
}

function besideTheRest(entries: OdometerEntry[], source: string, capKmPerDay: number): SecondSource | null {
  const own = agreeing(
    entries.filter((entry) => entry.source === source),
    capKmPerDay,
  )
  const rest = agreeing(
    entries.filter((entry) => entry.source !== source),
    capKmPerDay,
  )
  if (!own || !rest) return null
  const first = rest.x[0]!
  const last = rest.x[rest.x.length - 1]!
  const shared = own.x
    .map((day, i) => ({ day, km: own.y[i]! }))
    .filter(({ day }) => day >= first && day <= last)
  const fromDay = shared[0]?.day
  const toDay = shared.at(-1)?.day
  if (fromDay === undefined || toDay === undefined) return null
  if (shared.length < FEWEST || toDay - fromDay < LEAST_DAYS) return null
  const differences = shared.map(({ day, km }) => km - interpolate(rest, day)).sort((a, b) => a - b)
  const differenceKm = medianOfAscending(differences)
  const size = Math.abs(differenceKm)
  const steady = differences.every((difference) => Math.abs(difference - differenceKm) <= STEADY_SHARE * size)
  return steady && size >= LEAST_DIFFERENCE_KM ? { source, differenceKm, fromDay, toDay } : null
}

/** The longest chain of some readings, one a day, where it holds nearly all of them. */
function agreeing(
  entries: OdometerEntry[],
  capKmPerDay: number,
): (Line & { x: number[]; y: number[] }) | null {
  if (entries.length < FEWEST) return null
  const day = entries.map((entry) => entry.day)
  const chain = longestTrustedChain(
    day,
    entries.map((entry) => entry.km),
    capKmPerDay,
  )
  if (chain.length < OWN_SHARE * entries.length) return null
  const daily = Array.from(chain).filter((i, k) => k === 0 || day[i] !== day[chain[k - 1]!])
  return { x: daily.map((i) => day[i]!), y: daily.map((i) => entries[i]!.km) }
}

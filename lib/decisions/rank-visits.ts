/**
 * Which of the next visits of many vehicles to make with the hours that there are: the one that saves most an hour first
 * (the ratio rule of the fractional knapsack, Dantzig 1957), or the one that saves most; what must not be driven before
 * all of them. The line is where the hours run out.
 */
import { byBayHour } from './bundle'

/** A visit as far as ranking asks; money with its 80 % band. */
export interface VisitToRank {
  hours: number
  saving: number
  savingLow: number
  savingHigh: number
  price: number
  /** The vehicle must not be driven before it. */
  stop: boolean
}

export type RankedBy = 'bay-hour' | 'saving'

/** What a number of visits comes to. The ends of the band are those of all visits together: all at their low, all at their high ends. */
export interface VisitSums {
  visits: number
  hours: number
  price: number
  saving: number
  savingLow: number
  savingHigh: number
}

export interface RankedVisits<V extends VisitToRank> {
  above: V[]
  below: V[]
  sums: { above: VisitSums; below: VisitSums }
  /** The hours are not enough for the vehicles that must not be driven. */
  stopsBelow: number
}

/** The hours that bays have in a week, less the share kept for breakdowns. */
export const hoursAWeek = ({ bays, kept }: { bays: readonly { hours: number }[]; kept: number }): number =>
  Math.round(10 * bays.reduce((sum, { hours }) => sum + hours, 0) * (1 - kept)) / 10

/** What a visit saves an hour; null where it takes none. */
export const savedAnHour = ({ saving, hours }: Pick<VisitToRank, 'saving' | 'hours'>): number | null =>
  hours > 0 ? saving / hours : null

const HOURS_SLACK = 1e-6

/**
 * @param hours that there are; null: nobody has said, and no line is drawn: all are above it
 */
export function rankVisits<V extends VisitToRank>(
  visits: readonly V[],
  { by, hours }: { by: RankedBy; hours: number | null },
): RankedVisits<V> {
  const sorted = inOrder(visits, by)
  let [taken, count] = [0, 0]
  for (const visit of sorted) {
    taken += visit.hours
    if (hours !== null && taken > hours + HOURS_SLACK) break
    count++
  }
  const [above, below] = [sorted.slice(0, count), sorted.slice(count)]
  return {
    ...{ above, below },
    sums: { above: sumsOf(above), below: sumsOf(below) },
    stopsBelow: below.filter(({ stop }) => stop).length,
  }
}

function inOrder<V extends VisitToRank>(visits: readonly V[], by: RankedBy): V[] {
  const sorted = by === 'bay-hour' ? byBayHour(visits) : [...visits].sort((a, b) => b.saving - a.saving)
  return [...sorted.filter(({ stop }) => stop), ...sorted.filter(({ stop }) => !stop)]
}

function sumsOf(visits: readonly VisitToRank[]): VisitSums {
  const sum = (key: 'hours' | 'price' | 'saving' | 'savingLow' | 'savingHigh') =>
    visits.reduce((total, visit) => total + visit[key], 0)
  return {
    visits: visits.length,
    ...{ hours: sum('hours'), price: sum('price'), saving: sum('saving') },
    ...{ savingLow: sum('savingLow'), savingHigh: sum('savingHigh') },
  }
}

import type { Day } from '@/lib/units/dates'
import { KM_PER_MILE } from '@/lib/units/distances'
import { countUpTo } from './interpolate'
import type { OdometerEntry } from './odometer-points'

/** Why a reading is likely wrong. */
export type OdometerCause =
  | 'roll-back'
  | 'unit mix-up'
  | 'digit slip'
  | 'swapped vehicle'
  | 'cluster replacement'
  | 'second source'
  | 'unexplained'

/** A new instrument cluster that the readings suggest and nobody has confirmed. */
export interface ClusterGuess {
  on: Day
  offsetKm: number
}

/** What is known about the vehicle when its distrusted readings are judged. */
export interface Surroundings {
  trusted: { day: Float64Array; km: Float64Array }
  /** Days on which a new instrument cluster is on record without an offset. */
  clusterDays: Day[]
  /** The unit of another vehicle whose odometer a reading fits on that day. */
  fitsAnother?: (day: Day, km: number) => string | null
}

/** A vehicle does not go on at more than so many times its usual rate. */
const PLAUSIBLE_FACTOR = 4
const USUAL_KM_PER_DAY = 50
const LEAST_PAD_KM = 50
/** A change of cluster on record explains a break so many days off. */
const CLUSTER_DAYS = 30

/**
 * Labels distrusted readings with their likeliest cause. They are judged in runs: neighbours in time, without a
 * trusted reading between them, that follow from one another at a plausible rate.
 *
 * @param entries distrusted readings in time order.
 * @returns the cause of each, and the clusters that a person should confirm.
 */
export function labelDistrusted(
  entries: OdometerEntry[],
  surroundings: Surroundings,
): { causes: OdometerCause[]; clusters: ClusterGuess[] } {
  const judge = judgeOf(surroundings)
  const causes: OdometerCause[] = []
  const clusters: ClusterGuess[] = []
  for (const run of runsOf(entries, judge)) {
    const broken = judge.breakOf(run)
    for (const entry of run) causes.push(causeOf(entry, run, judge, broken?.cause ?? null))
    if (broken && causes.at(-1) === 'cluster replacement') clusters.push(broken.guess)
  }
  return { causes, clusters }
}

function causeOf(
  entry: OdometerEntry,
  run: OdometerEntry[],
  judge: Judge,
  broken: OdometerCause | null,
): OdometerCause {
  if (run.every(judge.isOtherUnit)) return 'unit mix-up'
  if (run.length > 1 && judge.isSwapped(run)) return 'swapped vehicle'
  if (broken) return broken
  if (judge.isDigitSlip(entry)) return 'digit slip'
  return judge.isSwapped([entry]) ? 'swapped vehicle' : 'unexplained'
}

function runsOf(entries: OdometerEntry[], judge: Judge): OdometerEntry[][] {
  const runs: OdometerEntry[][] = []
  for (const entry of entries) {
    const run = runs.at(-1)
    const last = run?.at(-1)
    if (run && last && judge.follows(last, entry) && judge.areNeighbours(last, entry)) run.push(entry)
    else runs.push([entry])
  }
  return runs
}

type Point = { day: Day; km: number }
type Judge = ReturnType<typeof judgeOf>

/** The single tests, with the vehicle's trusted readings and its usual rate at hand. */
function judgeOf({ trusted, clusterDays, fitsAnother }: Surroundings) {
  const usual = usualRate(trusted)
  const pad = Math.max(LEAST_PAD_KM, 2 * usual)
  const reach = (days: number): number => PLAUSIBLE_FACTOR * usual * Math.max(days, 0) + pad
  const at = (k: number): Point | null =>
    k >= 0 && k < trusted.day.length ? { day: trusted.day[k]!, km: trusted.km[k]! } : null
  const before = ({ day }: Point) => at(countUpTo(trusted.day, day) - 1)
  const after = ({ day }: Point) => at(countUpTo(trusted.day, day))

  const follows = (a: Point, b: Point): boolean => b.km >= a.km && b.km - a.km <= reach(b.day - a.day)

  /** Where the vehicle may have stood: between its neighbours; beyond an end, at half to 1.5 times its usual rate. */
  const between = (entry: Point): [number, number] => {
    const [earlier, later] = [before(entry), after(entry)]
    if (earlier && later) return [earlier.km, later.km]
    const end = earlier ?? later
    if (!end) return [0, Number.POSITIVE_INFINITY]
    const driven = usual * (entry.day - end.day)
    return [end.km + Math.min(0.5 * driven, 1.5 * driven), end.km + Math.max(0.5 * driven, 1.5 * driven)]
  }
  const couldBe = (entry: Point, km: number): boolean => {
    const [low, high] = between(entry)
    return km >= Math.max(low - pad, 0) && km <= high + pad
  }

  return {
    follows,
    areNeighbours: (a: Point, b: Point): boolean =>
      countUpTo(trusted.day, a.day) === countUpTo(trusted.day, b.day),

    isOtherUnit: (entry: OdometerEntry): boolean =>
      couldBe(entry, entry.km + entry.readKm * (KM_PER_MILE - 1)) ||
      couldBe(entry, entry.km + entry.readKm * (1 / KM_PER_MILE - 1)),

    isDigitSlip: (entry: OdometerEntry): boolean => {
      const unitKm = Number.isInteger(entry.readKm) ? 1 : KM_PER_MILE // a column in miles was converted
      const offsetKm = entry.km - entry.readKm
      const meant = (value: number) => couldBe(entry, value * unitKm + offsetKm)
      return oneSlipAway(Math.round(entry.readKm / unitKm)).some(meant)
    },

    isSwapped: (run: OdometerEntry[]): boolean => {
      const units = new Set(run.map(({ day, km }) => fitsAnother?.(day, km) ?? null))
      return units.size === 1 && !units.has(null)
    },

    /** The jump at one end of a run that joins the trusted readings, or nothing, at its other end. */
    breakOf: (run: OdometerEntry[]): { cause: OdometerCause; guess: ClusterGuess } | null => {
      const [first, last] = [run[0]!, run.at(-1)!]
      const [earlier, later] = [before(first), after(last)]
      const joinsEarlier = !earlier || follows(earlier, first)
      const joinsLater = !later || follows(last, later)
      if (joinsEarlier === joinsLater) return null
      const [from, to] = joinsLater ? [earlier, first] : [last, later]
      if (!from || !to) return null
      const onRecord = clusterDays.some(
        (day) => day >= from.day - CLUSTER_DAYS && day <= to.day + CLUSTER_DAYS,
      )
      if (!onRecord && first.day === last.day) return null // one reading is no run
      const days = to.day - from.day
      const isCluster = onRecord || to.km >= from.km || to.km <= 1.5 * usual * days + pad
      const cause = isCluster ? 'cluster replacement' : 'roll-back'
      return { cause, guess: { on: to.day, offsetKm: Math.round(from.km + usual * days - to.km) } }
    },
  }
}

/** Mean distance per day over all trusted readings; 50 km where there is no span. */
function usualRate({ day, km }: { day: Float64Array; km: Float64Array }): number {
  const last = day.length - 1
  const days = last > 0 ? day[last]! - day[0]! : 0
  return days > 0 ? (km[last]! - km[0]!) / days : USUAL_KM_PER_DAY
}

/** Every number that one slip of the pen turns into `typed`: a digit wrong, two swapped, one missing, one too many. */
function oneSlipAway(typed: number): number[] {
  const text = String(typed)
  const meant = new Set<string>()
  for (let i = 0; i <= text.length; i++) {
    const [head, tail] = [text.slice(0, i), text.slice(i)]
    for (const digit of '0123456789') {
      meant.add(head + digit + tail)
      if (tail) meant.add(head + digit + tail.slice(1))
    }
    if (tail) meant.add(head + tail.slice(1))
    if (tail.length > 1) meant.add(head + tail[1]! + tail[0]! + tail.slice(2))
  }
  meant.delete(text)
  return Array.from(meant, Number)
}

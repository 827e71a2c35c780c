import type { Day } from '@/lib/units/dates'
import { KM_PER_MILE } from '@/lib/units/distances'
import { countUpTo } from './interpolate'
import type { OdometerCause, OdometerPoint } from './odometer-points'

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

type Place = { day: Day; km: number }

/** The single questions about distrusted readings, with the trusted ones and the usual rate at hand. */
export class OdometerJudge {
  private readonly usual: number
  private readonly pad: number

  constructor(private readonly around: Surroundings) {
    this.usual = usualRate(around.trusted)
    this.pad = Math.max(LEAST_PAD_KM, 2 * this.usual)
  }

  /** Whether `b` may follow from `a`, with no trusted reading between them. */
  isNextOf(a: Place, b: Place): boolean {
    const { day } = this.around.trusted
    return this.follows(a, b) && countUpTo(day, a.day) === countUpTo(day, b.day)
  }

  isOtherUnit(point: OdometerPoint): boolean {
    return [KM_PER_MILE, 1 / KM_PER_MILE].some((factor) => this.couldBe(point, factor * point.readKm))
  }

  isDigitSlip(point: OdometerPoint): boolean {
    const unitKm = Number.isInteger(point.readKm) ? 1 : KM_PER_MILE // a column in miles was converted
    return oneSlipAway(Math.round(point.readKm / unitKm)).some((meant) => this.couldBe(point, meant * unitKm))
  }

  /** Whether all of a run fit one other vehicle. */
  isSwapped(run: OdometerPoint[]): boolean {
    const units = new Set(run.map(({ day, km }) => this.around.fitsAnother?.(day, km) ?? null))
    return units.size === 1 && !units.has(null)
  }

  /** What the jump means at one end of a run whose other end joins the trusted readings, or nothing. */
  breakOf(run: OdometerPoint[]): { cause: OdometerCause; guess: ClusterGuess } | null {
    const [first, last] = [run[0]!, run.at(-1)!]
    const [earlier, later] = [this.before(first), this.after(last)]
    const joinsEarlier = !earlier || this.follows(earlier, first)
    const joinsLater = !later || this.follows(last, later)
    if (joinsEarlier === joinsLater) return null
    const [from, to] = joinsLater ? [earlier, first] : [last, later]
    if (!from || !to) return null
    const isOnRecord = this.around.clusterDays.some(
      (day) => day >= from.day - CLUSTER_DAYS && day <= to.day + CLUSTER_DAYS,
    )
    if (!isOnRecord && first.day === last.day) return null // one reading is no run
    const drivenKm = this.usual * (to.day - from.day)
    const fromNought = to.km <= 1.5 * drivenKm + this.pad
    const isCluster = isOnRecord || fromNought || to.km >= from.km
    const guess = { on: to.day, offsetKm: Math.round(from.km + drivenKm - to.km) }
    return { cause: isCluster ? 'cluster replacement' : 'roll-back', guess }
  }

  private before({ day }: Place): Place | null {
    return this.trustedAt(countUpTo(this.around.trusted.day, day) - 1)
  }

  private after({ day }: Place): Place | null {
    return this.trustedAt(countUpTo(this.around.trusted.day, day))
  }

  private trustedAt(k: number): Place | null {
    const { day, km } = this.around.trusted
    return k >= 0 && k < day.length ? { day: day[k]!, km: km[k]! } : null
  }

  private follows(a: Place, b: Place): boolean {
    const reachKm = PLAUSIBLE_FACTOR * this.usual * (b.day - a.day) + this.pad
    return b.km >= a.km && b.km - a.km <= reachKm
  }

  /** Whether the vehicle may have stood there, had the instrument shown `readKm` on the reading's day. */
  private couldBe(point: OdometerPoint, readKm: number): boolean {
    const km = readKm + point.km - point.readKm
    const [low, high] = this.between(point)
    return km >= Math.max(low - this.pad, 0) && km <= high + this.pad
  }

  /** Where it may have stood: between its neighbours; beyond an end, at 0.5 to 1.5 times the usual rate. */
  private between(point: Place): [lowKm: number, highKm: number] {
    const [earlier, later] = [this.before(point), this.after(point)]
    if (earlier && later) return [earlier.km, later.km]
    const end = earlier ?? later
    if (!end) return [0, Number.POSITIVE_INFINITY]
    const drivenKm = this.usual * (point.day - end.day)
    return [end.km + (earlier ? 0.5 : 1.5) * drivenKm, end.km + (earlier ? 1.5 : 0.5) * drivenKm]
  }
}

/** Mean distance per day over all trusted readings; 50 km where there is no span. */
function usualRate({ day, km }: Surroundings['trusted']): number {
  const last = day.length - 1
  const days = last > 0 ? day[last]! - day[0]! : 0
  return days > 0 ? (km[last]! - km[0]!) / days : USUAL_KM_PER_DAY
}

/** Every number that one slip turns into `typed`: a digit wrong, two swapped, one missing, one too many. */
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

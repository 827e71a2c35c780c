import { medianOfAscending } from '@/lib/model/median'
import { theilSen } from '@/lib/model/theil-sen'
import type { Day } from '@/lib/units/dates'
import { countUpTo } from './inner/interpolate'
import { ODOMETER_SETTINGS, type OdometerSettings } from './odometer-settings'
import type { VehicleRow } from './rows'
import type { Odometer } from './trusted-odometer'

/** How vehicles of one class (family × duty) are used, on the scale of logs of km per day. */
export interface ClassRate {
  logKmPerDay: number
  /** Standard deviation between vehicles of the class. */
  betweenLogSd: number
  /** Standard deviation of (what the coming 90 days brought − what the last 180 days said). */
  forecastLogSd: number
}

/** A vehicle's use from now on: lognormal with median `kmPerDay`. */
export interface Usage {
  kmPerDay: number
  /** Standard deviation of the log of the mean rate over the coming 90 days. 0 for a vehicle that stands. */
  logSd: number
  standing: boolean
  /** What it rests on: its recent readings, its whole life, or only its class. */
  basis: 'readings' | 'life' | 'class'
}

export interface UsageOptions {
  /** A vehicle in stock keeps its own rate: its class says nothing about when it is sold or moved. */
  stock?: boolean
  settings?: OdometerSettings
}

/** Slowest rate that counts as driving, and the largest forecast error believed: logs must stay finite. */
const SLOWEST_KM_PER_DAY = 0.5
const LARGEST_ERROR = 1.5

/**
 * Variance of a Theil–Sen rate over `spanDays`, in units of s²: 60/span (see `usageRate`) times 6/5, what a
 * fitted slope costs beside first to last on a sum of independent stretches (known for least squares; from
 * memory).
 */
const slopeVariance = (spanDays: number): number => 72 / spanDays

/**
 * A vehicle's rate of use with its uncertainty.
 *
 * Own rate: Theil–Sen slope of the trusted readings of the last 180 days; where these are fewer than two or
 * span less than 30 days, the mean of its whole life. On the log scale it is shrunk towards the class by
 * precision.
 *
 * The uncertainty is measured, not assumed: s² is the mean square of the errors that such a forecast would
 * have made over the vehicle's past (`forecastErrors`), pooled with its class. Were 30-day stretches
 * independent, two thirds of s² would be the future's own (a mean of three stretches) and one third the
 * estimate's (a mean of six), growing as 1/span for a shorter record: s²·60/span. Where stretches are not
 * independent, s² has grown by that already. The mean of a life is old news: it errs by one s² more.
 */
export function usageRate(
  odometer: Odometer,
  asOf: Day,
  classRate: ClassRate,
  { stock = false, settings = ODOMETER_SETTINGS }: UsageOptions = {},
): Usage {
  if (isStanding(odometer, asOf, settings))
    return { kmPerDay: 0, logSd: 0, standing: true, basis: 'readings' }
  const errors = forecastErrors(odometer, asOf, settings)
  const forecastVariance = pooled(
    classRate.forecastLogSd,
    settings.forecastBeliefCount,
    errors.length,
    sumOfSquares(errors),
  )
  const futureVariance = (2 / 3) * forecastVariance
  const classVariance = classRate.betweenLogSd ** 2
  const own = ownRate(odometer, asOf, settings)
  if (!own) {
    const logSd = Math.sqrt(classVariance + futureVariance)
    return { kmPerDay: Math.exp(classRate.logKmPerDay), logSd, standing: false, basis: 'class' }
  }
  const ownVariance = forecastVariance * own.varianceFactor
  const weight = stock ? 1 : classVariance / (classVariance + ownVariance)
  const logKmPerDay = weight * own.logKmPerDay + (1 - weight) * classRate.logKmPerDay
  return {
    kmPerDay: Math.exp(logKmPerDay),
    logSd: Math.sqrt(weight * ownVariance + futureVariance),
    standing: false,
    basis: own.basis,
  }
}

/** What one vehicle tells of how its class is used. */
export interface UsageFacts {
  className: string
  logKmPerDay: number
  /** Error variance of that rate, in units of the forecast's. */
  varianceFactor: number
  /** How many forecasts could be checked on its past, and the sum of their squared errors. */
  errorCount: number
  errorSquares: number
}

/** @returns null for a vehicle that does not count: it stands, is in stock or has no recent readings. */
export function usageFacts(
  vehicle: VehicleRow,
  odometer: Odometer,
  asOf: Day,
  settings: OdometerSettings = ODOMETER_SETTINGS,
): UsageFacts | null {
  if (vehicle.status === 'stock' || isStanding(odometer, asOf, settings)) return null
  const own = ownRate(odometer, asOf, settings)
  if (own?.basis !== 'readings') return null
  const errors = forecastErrors(odometer, asOf, settings)
  return {
    className: classOf(vehicle),
    logKmPerDay: own.logKmPerDay,
    varianceFactor: own.varianceFactor,
    errorCount: errors.length,
    errorSquares: sumOfSquares(errors),
  }
}

/** How the classes of a fleet are used; the whole fleet answers for a class that is not among them. */
export interface ClassRates {
  fleet: ClassRate
  classes: ReadonlyMap<string, ClassRate>
}

/**
 * The rates of all classes of a fleet: centre (median) and spread between vehicles (median absolute
 * deviation, less what is error of the single rates) of the log rates. A class with too few vehicles is answered
 * for by the whole fleet, and that by 40 km a day within a factor of two. What is found is rounded to a hundredth,
 * 1 % of a rate, so that a record of one vehicle seldom moves the scores of all others.
 *
 * @param facts of the vehicles that count
 */
export function classRates(
  facts: readonly UsageFacts[],
  settings: OdometerSettings = ODOMETER_SETTINGS,
): ClassRates {
  const members = new Map<string, UsageFacts[]>()
  for (const each of facts) {
    const others = members.get(each.className)
    if (others) others.push(each)
    else members.set(each.className, [each])
  }
  const fallback: ClassRate = {
    logKmPerDay: Math.log(settings.fallbackKmPerDay),
    betweenLogSd: settings.fallbackLogSd,
    forecastLogSd: settings.forecastLogSd,
  }
  const fleet = rateOf(facts, fallback, settings)
  return { fleet, classes: new Map(Array.from(members, ([key, own]) => [key, rateOf(own, fleet, settings)])) }
}

/** The rate of the class that a vehicle is of. */
export const classRateOf = ({ fleet, classes }: ClassRates, vehicle: Classed): ClassRate =>
  classes.get(classOf(vehicle)) ?? fleet

type OwnRate = { logKmPerDay: number; varianceFactor: number; basis: 'readings' | 'life' }
type Classed = Pick<VehicleRow, 'family' | 'duty'>

const classOf = ({ family, duty }: Classed): string => `${duty} ${family}`

function rateOf(members: readonly UsageFacts[], wider: ClassRate, settings: OdometerSettings): ClassRate {
  if (members.length < settings.classFewest) return wider
  const count = members.reduce((sum, { errorCount }) => sum + errorCount, 0)
  const squares = members.reduce((sum, { errorSquares }) => sum + errorSquares, 0)
  const forecastVariance = pooled(wider.forecastLogSd, settings.forecastBeliefCount, count, squares)
  const logKmPerDay = median(members.map((member) => member.logKmPerDay))
  const spread = 1.4826 * median(members.map((member) => Math.abs(member.logKmPerDay - logKmPerDay)))
  const ownVariance = forecastVariance * median(members.map(({ varianceFactor }) => varianceFactor))
  const betweenLogSd = Math.sqrt(Math.max(spread ** 2 - ownVariance, 0.1 ** 2))
  return {
    logKmPerDay: hundredths(logKmPerDay),
    betweenLogSd: hundredths(betweenLogSd),
    forecastLogSd: hundredths(Math.sqrt(forecastVariance)),
  }
}

const hundredths = (value: number): number => Math.round(100 * value) / 100

const sumOfSquares = (values: number[]): number => values.reduce((sum, value) => sum + value * value, 0)

/** Mean square of measured errors, and of a believed one that counts as `belief` of them. */
function pooled(believedSd: number, belief: number, count: number, squares: number): number {
  return (belief * believedSd ** 2 + squares) / (belief + count)
}

/** Whether the trusted readings of the last 60 days show that the vehicle does not move. */
function isStanding({ trusted }: Odometer, asOf: Day, settings: OdometerSettings): boolean {
  const first = countUpTo(trusted.day, asOf - settings.standingDays - 1)
  const last = countUpTo(trusted.day, asOf) - 1
  return (
    last > first &&
    trusted.day[last]! - trusted.day[first]! >= settings.standingLeastSpanDays &&
    trusted.km[last]! - trusted.km[first]! < settings.standingKm
  )
}

function ownRate({ trusted, startOn }: Odometer, asOf: Day, settings: OdometerSettings): OwnRate | null {
  const first = countUpTo(trusted.day, asOf - settings.rateDays - 1)
  const count = countUpTo(trusted.day, asOf)
  if (count === 0) return null
  const [lastDay, lastKm] = [trusted.day[count - 1]!, trusted.km[count - 1]!]
  const spanDays = count > first ? lastDay - trusted.day[first]! : 0
  if (spanDays >= settings.rateLeastSpanDays) {
    const fit = theilSen(trusted.day.subarray(first, count), trusted.km.subarray(first, count))
    const mean = (lastKm - trusted.km[first]!) / spanDays
    const rate = fit.ok && fit.slope >= SLOWEST_KM_PER_DAY ? fit.slope : mean
    return { logKmPerDay: logRate(rate), varianceFactor: slopeVariance(spanDays), basis: 'readings' }
  }
  const [fromDay, fromKm] = startOn === null ? [trusted.day[0]!, trusted.km[0]!] : [startOn, 0]
  const lifeDays = lastDay - fromDay
  if (lifeDays < settings.rateLeastSpanDays) return null
  return {
    logKmPerDay: logRate((lastKm - fromKm) / lifeDays),
    varianceFactor: 1 + slopeVariance(lifeDays),
    basis: 'life',
  }
}

const logRate = (kmPerDay: number): number => Math.log(Math.max(kmPerDay, SLOWEST_KM_PER_DAY))

/**
 * The errors that the plain forecast would have made in the past: log of the rate over the 90 days after a
 * reading against that over the 180 days before it, at readings at least 90 days apart. Left out are
 * stretches of standing (a state of its own) and of more than twice the length, which say less; errors above
 * 1.5 count as 1.5.
 */
function forecastErrors({ trusted }: Odometer, asOf: Day, settings: OdometerSettings): number[] {
  const { day, km } = trusted
  const count = countUpTo(day, asOf)
  const errors: number[] = []
  for (let from = 0, now = 0; now < count; now++) {
    const ahead = countUpTo(day, day[now]! + settings.forecastDays - 1)
    if (ahead >= count) break
    while (day[from + 1]! <= day[now]! - settings.rateDays) from++
    const [daysBefore, daysAfter] = [day[now]! - day[from]!, day[ahead]! - day[now]!]
    const comparable = daysBefore <= 2 * settings.rateDays && daysAfter <= 2 * settings.forecastDays
    if (daysBefore < settings.rateDays || !comparable) continue
    const said = (km[now]! - km[from]!) / daysBefore
    const came = (km[ahead]! - km[now]!) / daysAfter
    if (Math.min(said, came) >= SLOWEST_KM_PER_DAY) errors.push(clipped(Math.log(came / said)))
    now = Math.max(now, ahead - 1)
  }
  return errors
}

const clipped = (error: number): number => Math.max(-LARGEST_ERROR, Math.min(LARGEST_ERROR, error))

const median = (values: number[]): number => medianOfAscending(Float64Array.from(values).sort())

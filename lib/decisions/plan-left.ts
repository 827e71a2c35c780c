/**
 * What a plan leaves: what must be said at its top (vehicles that must not be driven and fit nowhere, visits agreed on
 * that cannot be kept), what lies below its line with what it would gain, and what more hours would be worth.
 */

import { freeHours, type PlanJob, type PlanRequest } from './plan-request'
import { canBeDoneIn, HOURS_SLACK, hoursTogether, isForbidden, type PlanVisit, visitGain } from './plan-value'
import { type Plan, type PlanEffort, type PlanTerms, planVisits } from './plan-visits'

export type WhyLeft =
  /** It would be worth a visit, or to be done on one, but there are no hours. */
  | 'no-hours'
  /** There are hours in other weeks, but the vehicle comes as often as it may be asked to. */
  | 'visits-used'
  /** No bay has so many hours in any week. */
  | 'too-long'
  /** A visit costs more than it gains. */
  | 'not-worth-a-visit'
  | 'part-late'
  /** The vehicle may come in no week, or in none in which it would pay. */
  | 'forbidden'
  /** Its pinned visit leaves no room, or could not be kept. */
  | 'pinned'

export interface LeftJob {
  job: string
  unit: string
  stop: boolean
  why: WhyLeft
  /** Most that it would gain in some week, on the vehicle's visit that week, or else on one of its own. */
  gain: number
}

export interface LostPin {
  unit: string
  week: number
  why: 'no-jobs' | 'too-long' | 'forbidden' | 'no-hours'
}

export interface LeftOver {
  /** Vehicles that must not be driven and have a job that is not planned: to be said first. */
  stops: LeftJob[]
  lostPins: LostPin[]
  /** All other jobs that are not planned, the most gain first. */
  below: LeftJob[]
}

export function leftOver(request: PlanRequest, visits: readonly PlanVisit[]): LeftOver {
  const planned = new Set(visits.flatMap(({ jobs }) => jobs))
  const left = request.jobs
    .filter(({ id }) => !planned.has(id))
    .map((job) => leftJob(request, visits, job))
    .sort((a, b) => b.gain - a.gain)
  return {
    stops: left.filter(({ stop }) => stop),
    lostPins: request.pinned.flatMap((pin) => lostPin(request, visits, pin)),
    below: left.filter(({ stop }) => !stop),
  }
}

function leftJob(request: PlanRequest, visits: readonly PlanVisit[], job: PlanJob): LeftJob {
  const weeks = Array.from({ length: request.weeks }, (_, week) => week)
  const gains = weeks.map((week) => ({ week, gain: gainIn(request, visits, job, week) }))
  const gain = Math.max(...gains.map((each) => each.gain))
  const paying = gains.filter((each) => each.gain > 0 || job.stop).map(({ week }) => week)
  return { job: job.id, unit: job.unit, stop: job.stop, gain, why: whyLeft(request, visits, job, paying) }
}

/** On the vehicle's visit of that week, or else on one of its own. */
function gainIn(request: PlanRequest, visits: readonly PlanVisit[], job: PlanJob, week: number): number {
  const visit = visits.find((each) => each.unit === job.unit && each.week === week)
  const others = visit ? request.jobs.filter(({ id }) => visit.jobs.includes(id)) : []
  const without = visit ? visitGain(request, job.unit, week, others) : 0
  return visitGain(request, job.unit, week, [...others, job]) - without
}

function whyLeft(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  job: PlanJob,
  paying: readonly number[],
): WhyLeft {
  if (paying.length === 0) return 'not-worth-a-visit'
  const pins = request.pinned.filter(({ unit }) => unit === job.unit)
  if (pins.length === request.visitsEach || lostPinOf(request, visits, job.unit)) return 'pinned'
  const withPart = paying.filter((week) => canBeDoneIn(job, week))
  if (withPart.length === 0) return 'part-late'
  const free = freeHours(request)
  const open = withPart.flatMap((week) =>
    request.hours.flatMap((_, bay) => (isForbidden(request, job.unit, { week, bay }) ? [] : [{ week, bay }])),
  )
  if (open.length === 0) return request.hours.length === 0 ? 'no-hours' : 'forbidden'
  if (open.every(({ week, bay }) => job.hours > free[bay]![week]! + HOURS_SLACK)) return 'too-long'
  const own = visits.filter(({ unit }) => unit === job.unit)
  const others = open.filter(({ week }) => own.every((visit) => visit.week !== week))
  const roomy = others.some(({ week, bay }) => {
    const taken = visits.reduce((sum, at) => sum + (at.week === week && at.bay === bay ? at.hours : 0), 0)
    return job.hours <= free[bay]![week]! - taken + HOURS_SLACK
  })
  return own.length === request.visitsEach && roomy ? 'visits-used' : 'no-hours'
}

const lostPinOf = (request: PlanRequest, visits: readonly PlanVisit[], unit: string): boolean =>
  request.pinned.some((pin) => pin.unit === unit && lostPin(request, visits, pin).length > 0)

function lostPin(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  pin: PlanRequest['pinned'][number],
): LostPin[] {
  const { unit, week } = pin
  if (visits.some((visit) => visit.unit === unit && visit.week === week)) return []
  const jobs = request.jobs.filter((job) => job.unit === unit && canBeDoneIn(job, week))
  const lost = (why: LostPin['why']) => [{ unit, week, why }]
  if (jobs.length === 0) return lost('no-jobs')
  const bays = request.hours.flatMap((_, bay) =>
    (pin.bay === null || pin.bay === bay) && !isForbidden(request, unit, { week, bay }) ? [bay] : [],
  )
  if (bays.length === 0) return lost(request.hours.length === 0 ? 'no-hours' : 'forbidden')
  const agreed = jobs.filter(({ id }) => pin.jobs.includes(id))
  const needed = agreed.length > 0 ? hoursTogether(agreed).hours : Math.min(...jobs.map(({ hours }) => hours))
  const free = freeHours(request)
  return lost(bays.every((bay) => free[bay]![week]! + HOURS_SLACK < needed) ? 'too-long' : 'no-hours')
}

/** What more hours in a week would be worth. */
export interface MoreHours {
  week: number
  hours: number
  /** How much more a plan gains that was found by planning again from today's plan: it can be had. */
  byPlanningAgain: number
  /** Hours times their price at the bound: an estimate from the margin, not a promise. */
  atTheMargin: number
}

/** A short look: the plan itself is improved elsewhere. */
const SHORT: PlanEffort = { rounds: 3_000, nodes: 0, seconds: 0 }

/**
 * What one more bay day would be worth, by week: planned again, from today's plan, with a further bay that has so many
 * hours in that week, against today's plan improved by the same short search: so that the difference is of the hours.
 */
export function worthOfMoreHours(
  request: PlanRequest,
  plan: Plan,
  hours: number,
  goOn: PlanTerms['goOn'] = () => true,
): MoreHours[] {
  const again = (asked: PlanRequest) =>
    planVisits(asked, { solver: null, effort: SHORT, goOn, start: plan.visits }).gain
  const base = again(request)
  const kept = 1 - request.keptForBreakdowns
  return plan.hourPrices.map((price, week) => {
    // Worked hours of which so many are left after those kept for breakdowns.
    const extra = Array.from({ length: request.weeks }, (_, w) => (w === week && kept > 0 ? hours / kept : 0))
    const gain = again({ ...request, hours: [...request.hours, extra] })
    return { week, hours, byPlanningAgain: Math.max(gain - base, 0), atTheMargin: price * hours }
  })
}

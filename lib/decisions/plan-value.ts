/**
 * What a plan of visits is worth, from its definition alone, and whether it keeps the rules: nothing here knows how the
 * plan was found.
 *
 * Gain = Σ gain of each job in its week − price of a visit × visits that are not free + labour rate × shared hours saved.
 * On one visit, the jobs of one `access` need its stripping and refitting once: hours = Σ (hours − shared) + the largest
 * of their shared hours.
 */
import { freeHours, type PlanJob, type PlanRequest } from './plan-request'

export interface PlanVisit {
  unit: string
  /** Both counted from 0. */
  week: number
  bay: number
  hours: number
  /** Ids of the jobs. */
  jobs: string[]
  gain: number
}

/** Sums of hours in decimals do not come out even; below a second nobody sees it. */
export const HOURS_SLACK = 1e-6

/** Hours that jobs take on one visit, and how many of them are saved by doing them together. */
export function hoursTogether(jobs: readonly Pick<PlanJob, 'hours' | 'sharedHours' | 'access'>[]): {
  hours: number
  saved: number
} {
  let [alone, shared] = [0, 0]
  const largest = new Map<string, number>()
  for (const { hours, sharedHours, access } of jobs) {
    alone += hours
    if (access === null) continue
    shared += sharedHours
    largest.set(access, Math.max(largest.get(access) ?? 0, sharedHours))
  }
  const saved = shared - [...largest.values()].reduce((a, b) => a + b, 0)
  return { hours: alone - saved, saved }
}

/** Whether other work brings the vehicle in that week, so that a visit costs nothing more. */
export const comesAnyway = (request: PlanRequest, unit: string, week: number): boolean =>
  request.booked.some((work) => work.unit === unit && work.week === week)

/** What one visit gains, in money. */
export function visitGain(
  request: PlanRequest,
  unit: string,
  week: number,
  jobs: readonly PlanJob[],
): number {
  const gain = jobs.reduce((sum, job) => sum + job.gainByWeek[week]!, 0)
  const { saved } = hoursTogether(jobs)
  return gain + saved * request.labourRate - (comesAnyway(request, unit, week) ? 0 : request.visit)
}

/** A visit with its hours and its gain. */
export function makeVisit(
  request: PlanRequest,
  at: { unit: string; week: number; bay: number },
  jobs: readonly PlanJob[],
): PlanVisit {
  return {
    ...at,
    hours: hoursTogether(jobs).hours,
    jobs: jobs.map(({ id }) => id),
    gain: visitGain(request, at.unit, at.week, jobs),
  }
}

/** Whether a job by itself is a reason for the vehicle to come in a week. */
export const isDueIn = (job: PlanJob, week: number): boolean => job.stop || job.gainByWeek[week]! > 0

/** Whether its part is there; for a vehicle that must not be driven the part is got at once. */
export const canBeDoneIn = (job: PlanJob, week: number): boolean => job.stop || job.partsInWeek <= week

export type BrokenRule =
  | { rule: 'unknown-job' | 'job-twice' | 'part-late'; unit: string; week: number; job: string }
  | { rule: 'hours'; week: number; bay: number; hours: number; free: number }
  | { rule: 'too-many-visits'; unit: string }
  | { rule: 'forbidden' | 'moved-from-pin' | 'nothing-due' | 'stated-wrongly'; unit: string; week: number }

/** Every rule that a plan breaks; none for a plan that holds. */
export function brokenRules(request: PlanRequest, visits: readonly PlanVisit[]): BrokenRule[] {
  const jobs = new Map(request.jobs.map((job) => [job.id, job]))
  const done = new Set<string>()
  return [
    ...visits.flatMap((visit) => brokenByVisit(request, visit, jobs, done)),
    ...overfull(request, visits),
    ...tooOften(request, visits),
    ...besidePins(request, visits),
  ]
}

function brokenByVisit(
  request: PlanRequest,
  visit: PlanVisit,
  known: Map<string, PlanJob>,
  done: Set<string>,
): BrokenRule[] {
  const { unit, week, bay } = visit
  const broken: BrokenRule[] = []
  const jobs: PlanJob[] = []
  for (const id of visit.jobs) {
    const job = known.get(id)
    if (!job || job.unit !== unit) broken.push({ rule: 'unknown-job', unit, week, job: id })
    else jobs.push(job)
    if (done.has(id)) broken.push({ rule: 'job-twice', unit, week, job: id })
    if (job && !canBeDoneIn(job, week)) broken.push({ rule: 'part-late', unit, week, job: id })
    done.add(id)
  }
  const pinned = request.pinned.some((pin) => pin.unit === unit && pin.week === week)
  if (!pinned && !jobs.some((job) => isDueIn(job, week))) broken.push({ rule: 'nothing-due', unit, week })
  if (isForbidden(request, unit, { week, bay })) broken.push({ rule: 'forbidden', unit, week })
  const right = makeVisit(request, { unit, week, bay }, jobs)
  const off =
    Math.abs(right.hours - visit.hours) > HOURS_SLACK ||
    Math.abs(right.gain - visit.gain) > 1e-6 * Math.max(1, Math.abs(right.gain))
  return off ? [...broken, { rule: 'stated-wrongly', unit, week }] : broken
}

function overfull(request: PlanRequest, visits: readonly PlanVisit[]): BrokenRule[] {
  return freeHours(request).flatMap((ofBay, bay) =>
    ofBay.flatMap((free, week) => {
      const here = visits.filter((visit) => visit.bay === bay && visit.week === week)
      const hours = here.reduce((sum, visit) => sum + visit.hours, 0)
      return hours > free + HOURS_SLACK ? [{ rule: 'hours' as const, week, bay, hours, free }] : []
    }),
  )
}

function tooOften(request: PlanRequest, visits: readonly PlanVisit[]): BrokenRule[] {
  const weeks = new Map<string, number[]>()
  for (const { unit, week } of visits) weeks.set(unit, [...(weeks.get(unit) ?? []), week])
  return [...weeks].flatMap(([unit, ofUnit]) =>
    ofUnit.length > request.visitsEach || new Set(ofUnit).size < ofUnit.length
      ? [{ rule: 'too-many-visits' as const, unit }]
      : [],
  )
}

/** Vehicles with pinned visits that come at other times as well, or to another bay, or without the jobs agreed on. */
function besidePins(request: PlanRequest, visits: readonly PlanVisit[]): BrokenRule[] {
  return visits.flatMap((visit) => {
    const { unit, week, bay, jobs } = visit
    const pins = request.pinned.filter((pin) => pin.unit === unit)
    const pin = pins.find((each) => each.week === week)
    const all = pins.every((each) => visits.some((v) => v.unit === unit && v.week === each.week))
    const kept = pin
      ? (pin.bay === null || pin.bay === bay) && pin.jobs.every((id) => jobs.includes(id))
      : pins.length === 0 || all
    return kept ? [] : [{ rule: 'moved-from-pin' as const, unit, week }]
  })
}

/** Whether a vehicle must not come to a bay in a week. */
export const isForbidden = (
  request: PlanRequest,
  unit: string,
  { week, bay }: { week: number; bay: number },
) =>
  request.forbidden.some(
    (each) => each.unit === unit && each.week === week && (each.bay === null || each.bay === bay),
  )

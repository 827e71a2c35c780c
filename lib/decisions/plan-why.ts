/**
 * Why a visit is where it is, and what moving it would cost: the same visit in every other place, with what keeps it
 * from there. All from the request and the plan alone: nothing is planned anew.
 */
import { freeHours, type PlanJob, type PlanRequest } from './plan-request'
import { canBeDoneIn, HOURS_SLACK, hoursTogether, isForbidden, makeVisit, type PlanVisit } from './plan-value'

export type Obstacle =
  /** Hours that it needs and that are free there; whose visits take them. */
  | { reason: 'hours-full'; needed: number; free: number; takenBy: string[] }
  /** Even an empty bay has not so many hours. */
  | { reason: 'too-long'; needed: number; most: number }
  | { reason: 'part-late'; jobs: string[]; inWeek: number }
  | { reason: 'pinned' | 'promised'; week: number; bay: number | null }
  | { reason: 'forbidden' | 'away' }
  /** The vehicle comes then already. */
  | { reason: 'comes-already' }
  | { reason: 'nothing-due' }

export interface Moved {
  feasible: boolean
  obstacles: Obstacle[]
  /** Gain of the visit there, and less that of where it is: negative is what the move costs. */
  gain: number
  difference: number
}

export interface OtherWeek extends Moved {
  week: number
  /** The bay with the fewest obstacles, among these the roomiest. */
  bay: number
}

/**
 * What moving a visit would do, every other visit staying where it is.
 *
 * @param visit one of the plan's; `to` within the request's weeks and bays
 */
export function moveVisit(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  visit: PlanVisit,
  to: { week: number; bay: number },
): Moved {
  const jobs = jobsOf(request, visit)
  const there = makeVisit(request, { unit: visit.unit, ...to }, jobs)
  const obstacles = obstaclesTo(request, visits, visit, jobs, to)
  return {
    feasible: obstacles.length === 0,
    obstacles,
    gain: there.gain,
    difference: there.gain - visit.gain,
  }
}

/** The plan with a visit moved, whether or not it then keeps the rules. */
export function withMoved(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  visit: PlanVisit,
  to: { week: number; bay: number },
): PlanVisit[] {
  const moved = makeVisit(request, { unit: visit.unit, ...to }, jobsOf(request, visit))
  return visits.map((each) => (each === visit ? moved : each))
}

export interface WhyThere {
  unit: string
  week: number
  /** Every other week in which the same jobs would gain more, and what keeps the visit from it. */
  better: OtherWeek[]
  /** The next best of the weeks in which it could be. */
  instead: OtherWeek | null
  /** A person or a promise says so. */
  pinned: 'pinned' | 'promised' | null
  /** The vehicle is there for other work, so the visit costs nothing more. */
  comesAnyway: boolean
  /** Jobs that are done although their part is late: it is to be got at once. */
  partsToGet: string[]
  weeks: OtherWeek[]
}

/** Why a visit is in its week: what it gains in each other one, and what keeps it from there. */
export function whyThere(request: PlanRequest, visits: readonly PlanVisit[], visit: PlanVisit): WhyThere {
  const others = Array.from({ length: request.weeks }, (_, week) => week).filter(
    (week) => week !== visit.week,
  )
  const weeks = others.map((week) => bestBay(request, visits, visit, week))
  const possible = weeks.filter(({ feasible }) => feasible)
  const pin = request.pinned.find(({ unit, week }) => unit === visit.unit && week === visit.week)
  return {
    unit: visit.unit,
    week: visit.week,
    better: weeks.filter(({ difference }) => difference > 0),
    instead: possible.reduce<OtherWeek | null>((a, b) => (a === null || b.gain > a.gain ? b : a), null),
    pinned: pin?.why ?? null,
    comesAnyway: request.booked.some(({ unit, week }) => unit === visit.unit && week === visit.week),
    partsToGet: jobsOf(request, visit).flatMap((job) => (job.partsInWeek > visit.week ? [job.id] : [])),
    weeks,
  }
}

function bestBay(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  visit: PlanVisit,
  week: number,
): OtherWeek {
  const free = freeHours(request)
  const room = (bay: number) => free[bay]![week]! - hoursOf(visits, { week, bay })
  const bays = request.hours.map((_, bay) => ({
    week,
    bay,
    ...moveVisit(request, visits, visit, { week, bay }),
  }))
  return bays.reduce((a, b) => {
    const fewer = a.obstacles.length - b.obstacles.length
    return fewer > 0 || (fewer === 0 && room(b.bay) > room(a.bay)) ? b : a
  })
}

const jobsOf = (request: PlanRequest, visit: PlanVisit): PlanJob[] => {
  const wanted = new Set(visit.jobs)
  return request.jobs.filter(({ id }) => wanted.has(id))
}

const hoursOf = (visits: readonly PlanVisit[], { week, bay }: { week: number; bay: number }) =>
  visits.reduce((sum, each) => sum + (each.week === week && each.bay === bay ? each.hours : 0), 0)

function obstaclesTo(
  request: PlanRequest,
  visits: readonly PlanVisit[],
  visit: PlanVisit,
  jobs: readonly PlanJob[],
  to: { week: number; bay: number },
): Obstacle[] {
  const others = visits.filter((each) => each !== visit)
  const obstacles = [...hoursThere(request, others, jobs, to), ...notThen(request, visit, to)]
  const late = jobs.filter((job) => !canBeDoneIn(job, to.week))
  if (late.length > 0) {
    const inWeek = Math.max(...late.map(({ partsInWeek }) => partsInWeek))
    obstacles.push({ reason: 'part-late', jobs: late.map(({ id }) => id), inWeek })
  }
  if (others.some(({ unit, week }) => unit === visit.unit && week === to.week))
    obstacles.push({ reason: 'comes-already' })
  const due = jobs.some((job) => job.stop || job.gainByWeek[to.week]! > 0)
  const pinned = request.pinned.some(({ unit, week }) => unit === visit.unit && week === to.week)
  if (!due && !pinned) obstacles.push({ reason: 'nothing-due' })
  return obstacles
}

function hoursThere(
  request: PlanRequest,
  others: readonly PlanVisit[],
  jobs: readonly PlanJob[],
  to: { week: number; bay: number },
): Obstacle[] {
  const needed = hoursTogether(jobs).hours
  const most = freeHours(request)[to.bay]![to.week]!
  if (needed > most + HOURS_SLACK) return [{ reason: 'too-long', needed, most }]
  const free = most - hoursOf(others, to)
  if (needed <= free + HOURS_SLACK) return []
  const there = others.filter(({ week, bay }) => week === to.week && bay === to.bay)
  return [{ reason: 'hours-full', needed, free: Math.max(free, 0), takenBy: there.map(({ unit }) => unit) }]
}

/** What people have said about the vehicle's time. */
function notThen(request: PlanRequest, visit: PlanVisit, to: { week: number; bay: number }): Obstacle[] {
  const obstacles: Obstacle[] = []
  const pin = request.pinned.find(({ unit, week }) => unit === visit.unit && week === visit.week)
  if (pin && (pin.week !== to.week || (pin.bay !== null && pin.bay !== to.bay)))
    obstacles.push({ reason: pin.why, week: pin.week, bay: pin.bay })
  if (isForbidden(request, visit.unit, to)) {
    const said = request.forbidden.find(
      ({ unit, week, bay }) => unit === visit.unit && week === to.week && (bay === null || bay === to.bay),
    )!
    obstacles.push({ reason: said.why })
  }
  return obstacles
}

/** What a plan of visits is made from: weeks and bays with their hours, jobs with what each gains, and what is settled. */
import { z } from 'zod'
import { type ParsedJson, parseDocument } from '@/lib/records/parse-json'

const MOST_WEEKS = 104
const MOST_BAYS = 50
const MOST_JOBS = 20_000
const MOST_VISITS = 4

const words = z.string().min(1)
const hours = z.number().min(0).max(1e5)
const price = z.number().min(0).max(1e9)
const week = z.int().min(0)
const bay = z.int().min(0)

const planJob = z.object({
  /** Unlike that of every other job; the same when the plan is made again. */
  id: words,
  unit: words,
  weakPoint: words,
  positions: z.array(z.int().min(1)),
  /** Hours of the job done alone, the shared ones included. */
  hours,
  /** Of these, the stripping and refitting that jobs of one `access` need once a visit. */
  sharedHours: hours,
  access: words.nullable(),
  /** The vehicle must not be driven before it is done. */
  stop: z.boolean(),
  /** By week: what doing it then saves against leaving it until after the plan's end, the visit not counted. */
  gainByWeek: z.array(z.number().min(-1e12).max(1e12)),
  /** The first week in which its part is there. */
  partsInWeek: week.default(0),
})

const request = z.object({
  weeks: z.int().min(1).max(MOST_WEEKS),
  /** By bay and week: the hours that are worked there. */
  hours: z.array(z.array(hours)).max(MOST_BAYS),
  /** Of all hours, the share that is kept for breakdowns. */
  keptForBreakdowns: z.number().min(0).max(1).default(0),
  /** What one visit costs, once. */
  visit: price.default(0),
  /** What an hour costs, so what a shared hour that is not worked twice saves. */
  labourRate: price.default(0),
  /** Visits that one vehicle may be asked for within the plan. */
  visitsEach: z.int().min(1).max(MOST_VISITS).default(1),
  jobs: z.array(planJob).max(MOST_JOBS),
  /** Other work that is booked: it takes hours, and the vehicle is there anyway. */
  booked: z.array(z.object({ unit: words.nullable(), week, bay, hours })).default([]),
  /**
   * Visits that stand: pinned by a person or promised to somebody. With `jobs`, at least these are done on it; with
   * `bay` null, in any bay.
   */
  pinned: z
    .array(
      z.object({
        unit: words,
        week,
        bay: bay.nullable().default(null),
        jobs: z.array(words).default([]),
        why: z.enum(['pinned', 'promised']).default('pinned'),
      }),
    )
    .default([]),
  /** Weeks in which a vehicle is not to come (`bay` null: to no bay), and why. */
  forbidden: z
    .array(
      z.object({
        unit: words,
        week,
        bay: bay.nullable().default(null),
        why: z.enum(['forbidden', 'away']).default('forbidden'),
      }),
    )
    .default([]),
})

const checked = request.superRefine((asked, context) => {
  const refuse = (path: (string | number)[], message: string) =>
    context.addIssue({ code: 'custom', path, message })
  for (const [b, ofBay] of asked.hours.entries())
    if (ofBay.length !== asked.weeks)
      refuse(['hours', b], `expected hours for each of the ${asked.weeks} weeks`)
  const ids = new Map<string, string>()
  for (const [j, job] of asked.jobs.entries()) {
    if (ids.has(job.id)) refuse(['jobs', j, 'id'], 'expected an id that no other job has')
    ids.set(job.id, job.unit)
    if (job.gainByWeek.length !== asked.weeks)
      refuse(['jobs', j, 'gainByWeek'], `expected a gain for each of the ${asked.weeks} weeks`)
    if (job.sharedHours > job.hours)
      refuse(['jobs', j, 'sharedHours'], `expected at most the ${job.hours} hours of the whole job`)
  }
  for (const list of ['booked', 'pinned', 'forbidden'] as const)
    for (const [i, at] of asked[list].entries()) {
      if (at.week >= asked.weeks) refuse([list, i, 'week'], `expected a week from 0 to ${asked.weeks - 1}`)
      if (at.bay !== null && at.bay >= asked.hours.length)
        refuse([list, i, 'bay'], `expected one of ${asked.hours.length} bays, the first being 0`)
    }
  const pins = new Map<string, number[]>()
  for (const [i, pin] of asked.pinned.entries()) {
    const weeks = pins.get(pin.unit) ?? []
    if (weeks.includes(pin.week))
      refuse(['pinned', i, 'week'], 'expected one pinned visit a vehicle and week')
    if (weeks.length === asked.visitsEach)
      refuse(['pinned', i], `expected at most ${asked.visitsEach} visits of one vehicle`)
    pins.set(pin.unit, [...weeks, pin.week])
    for (const id of pin.jobs)
      if (ids.get(id) !== pin.unit) refuse(['pinned', i, 'jobs'], `expected jobs of ${pin.unit}, not ${id}`)
  }
})

export type PlanJob = z.output<typeof planJob>
export type PlanRequest = z.output<typeof request>
/** As it is asked: what has a default may be left out. */
export type PlanAsked = z.input<typeof request>

/**
 * Holds a request to its rules. Every mistake is listed with its place, in words; a NaN, a negative price, a week or bay
 * that does not exist are mistakes. No bays, bays without hours, and no jobs are not: they make an empty plan.
 */
export const checkPlanRequest = (asked: unknown): ParsedJson<PlanRequest> => parseDocument(checked, asked)

export type Slot = { week: number; bay: number }

/** Hours that can be planned in a bay and week: those worked, less the share kept for breakdowns and other work. */
export function freeHours(request: PlanRequest): number[][] {
  const free = request.hours.map((ofBay) => ofBay.map((each) => each * (1 - request.keptForBreakdowns)))
  for (const { week, bay, hours } of request.booked) free[bay]![week] = Math.max(free[bay]![week]! - hours, 0)
  return free
}

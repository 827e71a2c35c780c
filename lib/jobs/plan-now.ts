import { type LeftOver, leftOver } from '@/lib/decisions/plan-left'
import { checkPlanRequest, type PlanJob, type PlanRequest } from '@/lib/decisions/plan-request'
import { type Slipped, slippedFrom } from '@/lib/decisions/plan-slipped'
import { makeVisit, type PlanVisit } from '@/lib/decisions/plan-value'
import { mondayOf, planAsked, type StandingVisit, WEEK, weeksFrom } from '@/lib/decisions/plan-weeks'
import { readPlanClosed, type StoredClosed } from '@/lib/store/read/plan-closed'
import { readPlanInForce, type StoredPlan } from '@/lib/store/read/plan-in-force'
import { readPlanTerms, type StoredPlanTerms } from '@/lib/store/read/plan-terms'
import { readPlanVisits, type StoredVisit, type VisitedJob } from '@/lib/store/read/plan-visits'
import { readPlanWork, type StoredWork } from '@/lib/store/read/plan-work'
import { readPrices } from '@/lib/store/read/prices'
import { readTerms } from '@/lib/store/read/terms'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import { type PlanChanges, planChanges } from './plan-changes'

/** A visit that is open, as it counts now. */
export type OpenVisit = PlanVisit & {
  row: StoredVisit
  /** The vehicle must not be driven before one of its jobs is done. */
  stops: boolean
}

/** What has been said of the plan by people, whether or not there is one. */
export type PlanStatements = {
  today: Day
  terms: StoredPlanTerms | null
  work: StoredWork[]
  closed: StoredClosed[]
  rows: StoredVisit[]
}

/** The plan in force with all that was said and done since it was made. */
export type PlanNow = PlanStatements & {
  plan: (StoredPlan & { request: PlanRequest; left: LeftOver; slipped: Slipped[]; weeksOn: Day[] }) | null
  visits: OpenVisit[]
  /** Their week is over and nobody said that they were done; or they stand where the plan has no place. */
  past: StoredVisit[]
  /** They were done, and what was found is not on record. */
  unwritten: StoredVisit[]
  /** What has changed since the plan was made, so that it would come out otherwise; null where nothing has. */
  changes: PlanChanges | null
}

/** Whether there is work on record for a job since its visit was planned. */
export function isOnRecord(
  { weakPoint, positions }: VisitedJob,
  { works }: Pick<StoredVisit, 'works'>,
): boolean {
  return works.some(
    (work) =>
      work.weakPoint === weakPoint &&
      (work.positions.length === 0 || positions.some((position) => work.positions.includes(position))),
  )
}

/** A visit all of whose jobs are on record is over, whoever pressed what. */
const isWrittenUp = (row: StoredVisit) => row.jobs.length > 0 && row.jobs.every((job) => isOnRecord(job, row))

export const isStanding = ({ pinned, promisedOn }: Pick<StoredVisit, 'pinned' | 'promisedOn'>): boolean =>
  pinned || promisedOn !== null

/** Visits that a new plan has to keep, of those given. */
export const standingOf = (rows: readonly StoredVisit[]): StandingVisit[] =>
  rows.filter(isStanding).map((row) => ({
    unit: row.unit,
    weekOn: row.weekOn,
    bay: row.bay,
    jobs: row.jobs.filter((job) => !isOnRecord(job, row)).map(({ id }) => id),
    why: row.promisedOn === null ? 'pinned' : 'promised',
  }))

export async function readPlanStatements(scope: OrganisationScope, now: Date): Promise<PlanStatements> {
  const today = dayIn((await readTerms(scope)).timeZone, now)
  const from = mondayOf(today)
  return {
    today,
    terms: await readPlanTerms(scope),
    work: await readPlanWork(scope, from),
    closed: await readPlanClosed(scope, from),
    rows: await readPlanVisits(scope, today),
  }
}

/** @param now the present instant */
export async function readPlanNow(scope: OrganisationScope, now: Date): Promise<PlanNow> {
  const said = await readPlanStatements(scope, now)
  const { rows, terms, today } = said
  const written = new Set(rows.filter(isWrittenUp).map(({ id }) => id))
  const unwritten = rows.filter(({ id, doneOn }) => doneOn !== null && !written.has(id))
  const open = rows.filter(({ id, doneOn }) => doneOn === null && !written.has(id))
  const stored = await readPlanInForce(scope)
  const prices = await readPrices(scope)
  if (!stored || !terms || !prices)
    return { ...said, plan: null, visits: [], past: open, unwritten, changes: null }
  const weeksOn = weeksFrom(stored.firstDay, stored.weeks)
  const isThere = ({ weekOn, bay }: StoredVisit) =>
    weekOn >= mondayOf(today) && weeksOn.includes(weekOn) && bay < terms.bays.length
  const there = open.filter(isThere)
  const { firstDay } = stored
  const request = requestOf(stored, { ...said, terms, prices, standing: standingOf(there) })
  const jobs = new Map(request.jobs.map((job) => [job.id, job]))
  const visits = there.map((row) => visitOf(row, request, jobs, firstDay))
  const onRecord = new Set(
    rows.flatMap((row) => row.jobs.filter((job) => isOnRecord(job, row)).map(({ id }) => id)),
  )
  const undone = { ...request, jobs: request.jobs.filter(({ id }) => !onRecord.has(id)) }
  return {
    ...said,
    plan: {
      ...stored,
      request,
      weeksOn,
      left: leftOver(undone, visits),
      slipped: slippedFrom(undone, promisedOf(open, firstDay), visits),
    },
    visits,
    past: open.filter((row) => !isThere(row)),
    unwritten,
    changes: await planChanges(scope, stored, said),
  }
}

type Said = Pick<PlanStatements, 'today' | 'work' | 'closed'> & {
  terms: StoredPlanTerms
  prices: { visit: number; labourRate: number }
  standing: readonly StandingVisit[]
}

/** What a plan was made from, with what is said of weeks, bays and visits now. */
export function requestOf({ firstDay, weeks, content }: StoredPlan, said: Said): PlanRequest {
  const { today, terms, prices, work, closed, standing } = said
  const asked = planAsked({
    ...{ terms, firstDay, weeks, today, prices },
    ...{ work, closed, jobs: content.jobs, standing },
  })
  const checked = checkPlanRequest(asked)
  if (!checked.ok) throw new Error(`A plan that was made does not hold: ${checked.errors[0]?.message}`)
  return checked.value
}

export function visitOf(
  row: StoredVisit,
  request: PlanRequest,
  jobs: ReadonlyMap<string, PlanJob>,
  firstDay: Day,
): OpenVisit {
  const own = row.jobs.flatMap(({ id }) => jobs.get(id) ?? [])
  const at = { unit: row.unit, week: (row.weekOn - firstDay) / WEEK, bay: row.bay }
  // Jobs that the plan does not know any more take the hours that they took.
  return own.length > 0
    ? { ...makeVisit(request, at, own), row, stops: own.some(({ stop }) => stop) }
    : { ...at, hours: row.hours, jobs: [], gain: 0, row, stops: false }
}

const promisedOf = (rows: readonly StoredVisit[], firstDay: Day) =>
  rows.flatMap(({ promisedOn, jobs }) =>
    promisedOn === null ? [] : [{ week: (promisedOn - firstDay) / WEEK, jobs: jobs.map(({ id }) => id) }],
  )

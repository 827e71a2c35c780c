import type { LeftJob } from '@/lib/decisions/plan-left'
import type { OpenVisit } from '@/lib/jobs/plan-now'
import { noSuchTable, type Twin, type TwinAsked } from '../twins/answer-twin'
import { dayCell, told } from '../twins/twin'
import { leftSortIn, sortLeft } from './left-sort'
import { WHY_LEFT } from './plan-words'
import { readPlanPage } from './read-plan-page'

const read = ({ database, organisation, now }: TwinAsked) =>
  readPlanPage({ database, organisation }, { visit: null, now })

const NO_PLAN = 'No plan has been made yet.'

/** The visits of the plan in force, week by week and bay by bay, as they stand now. */
export const planTwin: Twin = async (asked) => {
  const { plan: now, named, terms } = await read(asked)
  if (!now.plan) return noSuchTable(NO_PLAN)
  const bays = now.terms?.bays ?? []
  const visits = now.visits.toSorted(
    (a, b) => a.week - b.week || a.bay - b.bay || a.unit.localeCompare(b.unit, 'en', { numeric: true }),
  )
  return told<OpenVisit>(
    'plan',
    now.plan.asOf,
    [
      ['week_on', 'Week from', ({ row }) => dayCell(row.weekOn)],
      ['bay', 'Bay', ({ bay }) => bays[bay]?.name ?? null],
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['plate', 'Plate', ({ row }) => row.plate],
      ['customer', 'Customer', ({ row }) => row.customer],
      ['jobs', 'Jobs', ({ row }) => row.jobs.map((job) => named(row.unit, job)).join('; ')],
      ['must_not_be_driven', 'Must not be driven before', ({ stops }) => stops],
      ['hours', 'Hours', ({ hours }) => hours],
      ['gain', 'Gains', ({ gain }) => gain, terms.currency],
      ['pinned', 'Kept in its place', ({ row }) => row.pinned],
      ['promised_on', 'Promised for the week from', ({ row }) => dayCell(row.promisedOn)],
    ],
    visits,
  )
}

/** Jobs that would pay and are in no visit, in the order of the page; all of them. */
export const leftTwin: Twin = async (asked) => {
  const { plan: now, named, terms } = await read(asked)
  if (!now.plan) return noSuchTable(NO_PLAN)
  const { left, request, asOf } = now.plan
  const jobs = new Map(request.jobs.map((job) => [job.id, job]))
  const hoursOf = (job: string) => jobs.get(job)?.hours ?? 0
  const worth = left.below.filter(({ why, gain }) => gain > 0 && why !== 'not-worth-a-visit')
  const name = ({ unit, job }: LeftJob) => {
    const known = jobs.get(job)
    return known ? named(unit, known) : job
  }
  return told<LeftJob>(
    'plan-left',
    asOf,
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['job', 'Job', name],
      ['why', 'Why not', ({ why }) => WHY_LEFT[why]],
      ['hours', 'Hours', ({ job }) => hoursOf(job)],
      ['gain', 'Would gain', ({ gain }) => gain, terms.currency],
    ],
    sortLeft(worth, leftSortIn(asked.parameters), hoursOf),
  )
}

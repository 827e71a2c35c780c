import type { PlanJob } from '@/lib/decisions/plan-request'
import { hoursTogether, isDueIn } from '@/lib/decisions/plan-value'
import { WEEK } from '@/lib/decisions/plan-weeks'
import type { WeakPoint } from '@/lib/records/library'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readPlanInForce, type StoredPlan } from '@/lib/store/read/plan-in-force'
import { readPlanTerms } from '@/lib/store/read/plan-terms'
import { readPlanVisits, type StoredVisit, type VisitedJob } from '@/lib/store/read/plan-visits'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import type { VisitJob } from './next-visit'
import { isOnRecord } from './plan-now'

/** A job as a card tells it. */
export type CardJob = Pick<VisitJob, 'weakPoint' | 'positions' | 'hours' | 'gain' | 'stop' | 'due'>

/** What is to be done on one visit, and how long it takes together. */
export type CardVisit = { jobs: CardJob[]; hours: number }

/** A visit on the plan, with the jobs that were planned for it, whatever is advised by now. */
export type PlannedVisit = CardVisit & {
  /** The Monday of its week. */
  weekOn: Day
  /** The name of its bay; null where there is no such bay any more. */
  bay: string | null
  /** Jobs of it that are on record since it was planned: they are done already. */
  written: Pick<VisitedJob, 'weakPoint' | 'positions'>[]
}

/**
 * A visit on the plan as it was planned: its jobs, and the hours that they take in that plan.
 *
 * @param today in the organisation's time zone
 * @returns null where that vehicle has no such visit
 */
export async function plannedVisit(
  scope: OrganisationScope,
  { unit, id }: { unit: string; id: string },
  today: Day,
): Promise<PlannedVisit | null> {
  const row = (await readPlanVisits(scope, today)).find((each) => each.id === id && each.unit === unit)
  if (!row) return null
  const plan = await readPlanInForce(scope)
  const library = (await readKnownLibrary(scope))?.library
  const family = library?.families.find(({ key }) => key === row.family)
  const isWritten = (job: VisitedJob) => row.doneOn === null && isOnRecord(job, row)
  const jobs = row.jobs.filter((job) => !isWritten(job))
  const known = jobs.map((job) => plannedJob(job, { row, plan, points: family?.weakPoints ?? [] }))
  return {
    weekOn: row.weekOn,
    bay: (await readPlanTerms(scope))?.bays[row.bay]?.name ?? null,
    jobs: togetherAs(known),
    hours: jobs.length === row.jobs.length ? row.hours : hoursTogether(known).hours,
    written: row.jobs.filter(isWritten),
  }
}

type Planned = CardJob & Pick<PlanJob, 'sharedHours' | 'access'>

/** A job as the plan has it; one that the plan does not know any more takes the hours that the library states. */
function plannedJob(
  { id, weakPoint, positions }: VisitedJob,
  { row, plan, points }: { row: StoredVisit; plan: StoredPlan | null; points: readonly WeakPoint[] },
): Planned {
  const job = plan?.content.jobs.find((each) => each.id === id)
  const week = plan ? (row.weekOn - plan.firstDay) / WEEK : -1
  if (!job || job.gainByWeek[week] === undefined) {
    const hours =
      job?.hours ?? (points.find(({ key }) => key === weakPoint)?.cost.hours ?? 0) * positions.length
    const { sharedHours = 0, access = null, stop = false } = job ?? {}
    return { weakPoint, positions, hours, sharedHours, access, stop, due: stop, gain: 0 }
  }
  const { hours, sharedHours, access, stop } = job
  const [due, gain] = [isDueIn(job, week), job.gainByWeek[week]]
  return { weakPoint, positions, hours, sharedHours, access, stop, due, gain }
}

/** The jobs of one weak point as one. */
function togetherAs(jobs: readonly Planned[]): CardJob[] {
  const points = [...new Set(jobs.map(({ weakPoint }) => weakPoint))]
  return points.map((weakPoint) => {
    const own = jobs.filter((job) => job.weakPoint === weakPoint)
    return {
      weakPoint,
      positions: own.flatMap(({ positions }) => positions).sort((a, b) => a - b),
      hours: own.reduce((sum, { hours }) => sum + hours, 0),
      gain: own.reduce((sum, { gain }) => sum + gain, 0),
      stop: own.some(({ stop }) => stop),
      due: own.some(({ due }) => due),
    }
  })
}

import type { PlanRequest } from '@/lib/decisions/plan-request'
import type { PlanVisit } from '@/lib/decisions/plan-value'
import { WEEK } from '@/lib/decisions/plan-weeks'
import { readPlanVisits, type StoredVisit, type VisitedJob } from '@/lib/store/read/plan-visits'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { addPlanVisit, dropPlanVisits, putPlanVisit } from '@/lib/store/write/put-plan-visit'
import type { Day } from '@/lib/units/dates'
import { isStanding } from '../plan-now'

type Planned = {
  kept: { firstDay: Day; asOf: Day }
  request: Pick<PlanRequest, 'jobs'>
  /** How many bays there are. */
  bays: number
  visits: readonly PlanVisit[]
  by: string | null
  now: Date
}

/**
 * Puts a plan's visits in the place of those that there were. What stands (pinned, promised) keeps what was said of it; it
 * stays even where the plan has no place for it, to be told. What was said of a visit while the plan was being made holds.
 */
export async function keepPlannedVisits(scope: OrganisationScope, plan: Planned): Promise<void> {
  const { kept, request, bays, visits, by, now } = plan
  const open = (await readPlanVisits(scope, kept.asOf)).filter(({ doneOn }) => doneOn === null)
  const byUnit = new Map(open.map((row) => [row.unit, row]))
  const planned = new Set(visits.map(({ unit }) => unit))
  await dropPlanVisits(
    scope,
    open.filter((row) => !planned.has(row.unit) && !isStanding(row)).map(({ id }) => id),
  )
  for (const visit of visits) {
    const row = byUnit.get(visit.unit)
    const weekOn = kept.firstDay + WEEK * visit.week
    const { bay, hours, gain } = visit
    const isElsewhere = row && (row.weekOn !== weekOn || (row.bay !== bay && row.bay < bays))
    if (row && isStanding(row) && isElsewhere && row.weekOn >= kept.firstDay) continue
    const made = { weekOn, bay, hours, gain, jobs: visitedJobs(request, visit.jobs), madeAt: now }
    if (row) await putPlanVisit(scope, { ...rowOf(row), ...made })
    else
      await addPlanVisit(scope, visit.unit, {
        ...made,
        ...{ pinned: false, promisedOn: null, promisedWhom: null, doneOn: null, madeBy: by },
      })
  }
}

/** A visit as its row has it, without what was joined to it. */
export function rowOf({ unit, plate, customer, family, works, ...row }: StoredVisit) {
  return row
}

export function visitedJobs({ jobs }: Pick<PlanRequest, 'jobs'>, ids: readonly string[]): VisitedJob[] {
  const wanted = new Set(ids)
  return jobs
    .filter(({ id }) => wanted.has(id))
    .map(({ id, weakPoint, positions }) => ({ id, weakPoint, positions }))
}

import { planJobs } from '@/lib/decisions/plan-jobs'
import { checkPlanRequest, type PlanJob, type PlanRequest } from '@/lib/decisions/plan-request'
import type { Plan } from '@/lib/decisions/plan-visits'
import { firstDayOf, type PlanTermsStated, planAsked } from '@/lib/decisions/plan-weeks'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AskedJob, readAskedJobs } from '@/lib/store/read/asked-jobs'
import type { PlanContent } from '@/lib/store/read/plan-in-force'
import { readPlanIsWanted } from '@/lib/store/read/plan-job'
import { readPrices } from '@/lib/store/read/prices'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { readUrgentVehicles, type Urgent } from '@/lib/store/read/urgent-vehicles'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { holdPlan } from '@/lib/store/write/hold-plan'
import { keepPlan, type NewPlan } from '@/lib/store/write/keep-plan'
import { endJob, noteProgress } from '@/lib/store/write/note-job'
import { keepPlanProposal } from '@/lib/store/write/plan-proposal'
import { JobRefusal, toldFailure } from './inner/failure'
import { jobsSupplied } from './inner/jobs-supplied'
import { keepPlannedVisits } from './inner/keep-planned-visits'
import { onBehalf } from './inner/on-behalf'
import { scorerOn } from './inner/scorer-on'
import { planApart } from './plan-apart'
import { isStanding, readPlanStatements, standingOf } from './plan-now'

/** How the solving is done: in a process apart, so that nobody waits for it. */
export type Planning = typeof planApart

/** Solving ends after so long with the best so far. */
const SECONDS = 60
/** Vehicles whose jobs are reckoned in one transaction. */
const AT_ONCE = 20
/** The best so far is kept no oftener. */
const MS_BETWEEN_NOTES = 700
const WORKING_DAYS = 5
const USUAL_DAY = 8

/**
 * Makes the plan of visits of an organisation where somebody asked for it, or a proposal of one, which is told and
 * changes nothing. The plan in force stays until the new one is whole; what a kill cut off is begun again; where somebody stops it, the best so far is put in force.
 *
 * @param signal ends the work; it is begun again the next time
 */
export async function planWhenAsked(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
  signal?: AbortSignal,
  planning: Planning = planApart,
): Promise<void> {
  const asked = await withOrganisation(database, organisation, (scope) =>
    readAskedJobs(scope, ['plan', 'plan-anew']),
  )
  for (const job of asked) {
    if (signal?.aborted) return
    await new PlanningJob(onBehalf(database, job.by), organisation, job, { now, planning }).run(signal)
  }
}

/** What is planned, and under what it is kept. */
type Ground = {
  terms: PlanTermsStated
  kept: Omit<NewPlan, 'gain' | 'bound' | 'content'>
  request: PlanRequest
  /** Vehicles that have to come now. */
  urgent: Record<string, Urgent>
}

class PlanningJob {
  private readonly stopped = new AbortController()
  private noted = 0
  private noting = Promise.resolve()

  constructor(
    private readonly database: Database,
    private readonly organisation: OrganisationId,
    private readonly job: AskedJob<'plan' | 'plan-anew'>,
    private readonly surroundings: { now: () => Date; planning: Planning },
  ) {}

  async run(outside?: AbortSignal): Promise<void> {
    const end = () => this.stopped.abort()
    outside?.addEventListener('abort', end)
    if (outside?.aborted) end()
    try {
      await this.plan(() => outside?.aborted ?? false)
    } catch (error) {
      if (!this.stopped.signal.aborted) await this.fail(error)
    } finally {
      outside?.removeEventListener('abort', end)
    }
  }

  private async plan(isCutOff: () => boolean): Promise<void> {
    const ground = await this.readGround()
    if (!ground || isCutOff()) return
    const { request, terms } = ground
    const start = await this.write((scope) => readPlanStatements(scope, this.surroundings.now()))
    const plan = await this.surroundings.planning(request, {
      seconds: SECONDS,
      moreHours: bayDay(terms),
      start: startOf(start.rows, ground),
      signal: this.stopped.signal,
      onBetter: (better) => this.noteBetter(ground, better),
    })
    await this.noting
    // A kill, or an end of the product, is no wish of anybody: it is begun again.
    if (isCutOff()) return
    await this.keep(ground, plan, plan.moreHours)
  }

  private get isProposal(): boolean {
    return this.job.kind === 'plan-anew'
  }

  /** Puts it in force, with its visits, or keeps it as a proposal; in one transaction with the end of the job. */
  private async keep(ground: Ground, plan: Plan, moreHours: PlanContent['moreHours']): Promise<void> {
    const now = this.surroundings.now()
    await this.write(async (scope) => {
      await holdPlan(scope)
      const made = newPlan(ground, plan, moreHours)
      if (this.isProposal) await keepPlanProposal(scope, made, now)
      else {
        await keepPlan(scope, made, now)
        await keepPlannedVisits(scope, {
          ...{ ...ground, bays: ground.request.hours.length, visits: plan.visits, by: this.job.by, now },
        })
      }
      await endJob(scope, this.job.id, { failure: null, now })
    })
  }

  /** Keeps the best so far to be looked at, and ends the work where somebody has stopped it. */
  private noteBetter(ground: Ground, plan: Plan): void {
    const at = performance.now()
    if (this.isProposal || at - this.noted < MS_BETWEEN_NOTES) return
    this.noted = at
    // What cannot be noted now is noted with the next.
    this.noting = this.noting
      .then(() => this.noteIfWanted((scope) => keepPlan(scope, newPlan(ground, plan, []), null)))
      .then(() => {})
      .catch(() => {})
  }

  private async noteIfWanted(note: (scope: OrganisationScope) => Promise<unknown>): Promise<boolean> {
    const isWanted = await this.write(async (scope) => {
      if (!(await readPlanIsWanted(scope, this.job.id))) return false
      await note(scope)
      return true
    })
    if (!isWanted) this.stopped.abort()
    return isWanted
  }

  private async fail(error: unknown): Promise<void> {
    const ended = { failure: toldFailure(error), now: this.surroundings.now() }
    await this.write((scope) => endJob(scope, this.job.id, ended))
  }

  /** @returns null where somebody stopped it before there was anything to plan with */
  private async readGround(): Promise<Ground | null> {
    const now = this.surroundings.now()
    const said = await this.write((scope) => readPlanStatements(scope, now))
    const { terms, today } = said
    if (!terms || terms.bays.length === 0)
      throw new JobRefusal(
        'There are no bays yet: say which there are, and how many hours are worked in them',
      )
    const prices = await this.write(readPrices)
    if (!prices) throw new JobRefusal('There is no library yet: state a family first')
    const firstDay = firstDayOf(today)
    const standing = standingOf(said.rows.filter((row) => row.doneOn === null && isStanding(row)))
    const agreed = new Set(standing.flatMap((visit) => visit.jobs))
    const { weeks } = terms
    const reckoned = await this.reckonJobs({ now, weeks, firstInDays: firstDay - today, agreed })
    if (!reckoned) return null
    const jobs = await this.write((scope) =>
      jobsSupplied(scope, reckoned, { today, firstDay, weeks, agreed }),
    )
    const asked = planAsked({ ...said, terms, firstDay, weeks, jobs, standing, prices })
    const checked = checkPlanRequest(asked)
    if (!checked.ok) throw new Error(`No plan can be made: ${checked.errors[0]?.message}`)
    const kept = { id: this.job.id, firstDay, weeks, asOf: today, madeAt: now, by: this.job.by }
    const urgent = Object.fromEntries(await this.write(readUrgentVehicles))
    return { terms, kept, request: checked.value, urgent }
  }

  /** What each job of each vehicle would gain by week; null where somebody stopped it. */
  private async reckonJobs(plan: {
    now: Date
    weeks: number
    firstInDays: number
    agreed: ReadonlySet<string>
  }): Promise<PlanJob[] | null> {
    const vehicles = await this.write(readStandingVehicles)
    const units = vehicles.map(({ unit }) => unit).sort()
    const jobs: PlanJob[] = []
    for (let first = 0; first < units.length; first += AT_ONCE) {
      const progress = { done: first, total: units.length, message: 'Reckoning what each job gains' }
      if (!(await this.noteIfWanted((scope) => noteProgress(scope, this.job.id, progress)))) return null
      const some = units.slice(first, first + AT_ONCE)
      jobs.push(...(await this.write((scope) => jobsOf(scope, some, plan))))
    }
    const progress = { done: units.length, total: units.length, message: 'Looking for the best plan' }
    const isWanted = await this.noteIfWanted((scope) => noteProgress(scope, this.job.id, progress))
    return isWanted ? jobs : null
  }

  private write<T>(work: (scope: OrganisationScope) => Promise<T>): Promise<T> {
    return withOrganisation(this.database, this.organisation, work, 'write')
  }
}

async function jobsOf(
  scope: OrganisationScope,
  units: readonly string[],
  { now, ...plan }: { now: Date; weeks: number; firstInDays: number; agreed: ReadonlySet<string> },
): Promise<PlanJob[]> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return []
  const scorer = await scorerOn(scope, ground)
  const jobs: PlanJob[] = []
  for (const unit of units) {
    const advice = await scorer.groundOf(scope, unit)
    if (advice) jobs.push(...planJobs(unit, advice, plan))
  }
  return jobs
}

function newPlan(
  { kept, request, urgent }: Ground,
  plan: Plan,
  moreHours: PlanContent['moreHours'],
): NewPlan {
  const { visits, gain, bound, hourPrices } = plan
  return {
    ...kept,
    gain,
    bound: Number.isFinite(bound) ? bound : null,
    content: { jobs: request.jobs, hourPrices, moreHours, visits, urgent },
  }
}

/** The visits that there are, by the weeks of the new plan: what still holds is where the search begins. */
function startOf(
  rows: Awaited<ReturnType<typeof readPlanStatements>>['rows'],
  { kept: { firstDay, weeks } }: Ground,
) {
  return rows.flatMap((row) => {
    const week = Math.round((row.weekOn - firstDay) / 7)
    if (row.doneOn !== null || week < 0 || week >= weeks) return []
    return [{ unit: row.unit, week, bay: row.bay, hours: row.hours, jobs: [], gain: 0 }]
  })
}

/** Hours of a working day in the bay that has most of them. */
export function bayDay({ bays }: Pick<PlanTermsStated, 'bays'>): number {
  const most = Math.max(0, ...bays.map(({ hours }) => hours))
  return most > 0 ? most / WORKING_DAYS : USUAL_DAY
}

import {
  type ChanceWithin,
  failuresUntil,
  type PlanDifference,
  type PlannedVisit,
  planDifference,
} from '@/lib/decisions/plan-difference'
import type { PlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules, type PlanVisit } from '@/lib/decisions/plan-value'
import { WEEK } from '@/lib/decisions/plan-weeks'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { readPartChances } from '@/lib/store/read/part-chances'
import { type PlanProposal, readPlanProposal } from '@/lib/store/read/plan-proposal'
import { readPlanVisits, type StoredVisit } from '@/lib/store/read/plan-visits'
import { readPrices } from '@/lib/store/read/prices'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { holdPlan } from '@/lib/store/write/hold-plan'
import { notePlanAct } from '@/lib/store/write/plan-act'
import { leaveProposal, putProposalInForce } from '@/lib/store/write/plan-proposal'
import type { By } from './act-on-plan'
import { keepPlannedVisits, rowOf } from './inner/keep-planned-visits'
import {
  isOnRecord,
  isStanding,
  type PlanStatements,
  readPlanStatements,
  requestOf,
  standingOf,
  visitOf,
} from './plan-now'

/** A plan that is proposed, held against the one in force with all that was said and done since. */
export type ProposedPlan = {
  proposal: PlanProposal
  /** Its visits, without those that were done since or that stand elsewhere. */
  proposed: PlanVisit[]
  difference: PlanDifference
  /** What each gains, by what is known now, against leaving everything until after the plan. */
  gain: { before: number; after: number }
  /** Failures to be expected until the proposed plan's end of the parts whose visits differ. */
  failures: { before: number; after: number }
  /** It cannot be had any more: what was said since takes its hours or its weeks. */
  isOvertaken: boolean
  /** The plan as it stands takes hours or weeks that are not there any more. */
  isOverfull: boolean
}

/** @returns null where none is proposed, or somebody has left it */
export async function readProposedPlan(scope: OrganisationScope, now: Date): Promise<ProposedPlan | null> {
  const proposal = await readPlanProposal(scope)
  if (!proposal || proposal.leftAt !== null) return null
  const said = await readPlanStatements(scope, now)
  const prices = await readPrices(scope)
  const { terms } = said
  if (!terms || !prices) return null
  const { firstDay, weeks } = proposal
  const open = openRows(said)
  const request = requestOf(proposal, { ...said, terms, prices, standing: standingOf(open) })
  const jobs = new Map(request.jobs.map((job) => [job.id, job]))
  const visitsOf = (rows: readonly StoredVisit[]): PlanVisit[] =>
    rows
      .filter(({ weekOn }) => weekOn >= firstDay && weekOn < firstDay + WEEK * weeks)
      .map((row) => visitOf(row, request, jobs, firstDay))
  const { proposed, untouched } = split(proposal, said)
  const after = [...proposed, ...visitsOf(untouched)]
  const gainOf = (visits: readonly PlanVisit[]) => visits.reduce((sum, { gain }) => sum + gain, 0)
  const rows = {
    before: open.map(plannedRow),
    after: [...proposed.map((visit) => planned(visit, firstDay)), ...untouched.map(plannedRow)],
  }
  return {
    ...{ proposal, proposed },
    difference: planDifference(rows.before, rows.after),
    gain: { before: gainOf(visitsOf(open)), after: gainOf(after) },
    failures: await failuresOf(scope, { ...rows, proposal, said }),
    isOvertaken: takesTooMuch(request, after),
    isOverfull: takesTooMuch(request, visitsOf(open)),
  }
}

const takesTooMuch = (request: PlanRequest, visits: readonly PlanVisit[]): boolean =>
  brokenRules(request, visits).some(({ rule }) => rule === 'hours' || rule === 'forbidden')

const plannedRow = ({ unit, weekOn, bay, jobs }: StoredVisit): PlannedVisit => ({
  ...{ unit, weekOn, bay },
  jobs: jobs.map(({ id }) => id),
})

const planned = ({ unit, week, bay, jobs }: PlanVisit, firstDay: number): PlannedVisit => ({
  ...{ unit, weekOn: firstDay + WEEK * week, bay, jobs },
})

/** Visits that are not over: neither done nor written up. */
const openRows = ({ rows }: Pick<PlanStatements, 'rows'>) =>
  rows.filter((row) => row.doneOn === null && !row.jobs.every((job) => isOnRecord(job, row)))

/** What is proposed as far as it is not done yet; and visits that stand elsewhere than it is proposed: they stay there. */
function split(
  { firstDay, content }: PlanProposal,
  said: PlanStatements,
): { proposed: PlanVisit[]; untouched: StoredVisit[] } {
  const isDone = ({ unit, jobs }: PlanVisit) =>
    said.rows.some(
      (row) =>
        row.unit === unit &&
        row.jobs.some((job) => jobs.includes(job.id) && (row.doneOn !== null || isOnRecord(job, row))),
    )
  const standing = new Map(
    openRows(said).flatMap((row) => (isStanding(row) ? [[row.unit, row] as const] : [])),
  )
  const isThere = ({ unit, week, bay }: PlanVisit) => {
    const row = standing.get(unit)
    return row === undefined || (row.weekOn === firstDay + WEEK * week && row.bay === bay)
  }
  const proposed = content.visits.filter((visit) => !isDone(visit) && isThere(visit))
  const told = new Set(proposed.map(({ unit }) => unit))
  return { proposed, untouched: [...standing.values()].filter(({ unit }) => !told.has(unit)) }
}

type Compared = {
  before: readonly PlannedVisit[]
  after: readonly PlannedVisit[]
  proposal: PlanProposal
  said: PlanStatements
}

/** Of jobs whose visit is another, or in another week: what is the same in both says nothing. */
async function failuresOf(scope: OrganisationScope, { before, after, proposal, said }: Compared) {
  const weekOf = (visits: readonly PlannedVisit[]) =>
    new Map(visits.flatMap(({ weekOn, jobs }) => jobs.map((job) => [job, weekOn])))
  const [was, becomes] = [weekOf(before), weekOf(after)]
  const jobs = proposal.content.jobs.filter(({ id }) => was.get(id) !== becomes.get(id))
  if (jobs.length === 0) return { before: 0, after: 0 }
  const units = [...new Set(jobs.map(({ unit }) => unit))]
  const families = new Map(
    (await readStandingVehicles(scope, units)).map(({ unit, family }) => [unit, family]),
  )
  const points = new Map(
    jobs.flatMap(({ unit, weakPoint }) => {
      const family = families.get(unit)
      return family === undefined ? [] : [[`${family} ${weakPoint}`, { family, weakPoint }] as const]
    }),
  )
  const kept = await readPartChances(scope, [...points.values()], STORED_HORIZONS_DAYS)
  const known = new Map(
    kept.map(({ unit, weakPoint, position, chances }) => [`${unit}\n${weakPoint}\n${position}`, chances]),
  )
  const chancesOf = new Map<string, ChanceWithin[]>(
    jobs.map(({ id, unit, weakPoint, positions }) => [
      id,
      known.get(`${unit}\n${weakPoint}\n${positions[0]}`) ?? [],
    ]),
  )
  const ids = jobs.map(({ id }) => id)
  const at = { today: said.today, end: proposal.firstDay + WEEK * proposal.weeks, chancesOf }
  return { before: failuresUntil(ids, before, at), after: failuresUntil(ids, after, at) }
}

const NOTHING_BEFORE = { visits: [], work: [], closed: [], proposalActs: [] }

/**
 * Puts the proposed plan in force: visits that are pinned or promised stay where they are. What was there before is kept,
 * so that it can be undone.
 *
 * @returns false where it is not proposed any more, or cannot be had any more
 */
export async function takeProposedPlan(scope: OrganisationScope, id: string, by: By): Promise<boolean> {
  await holdPlan(scope)
  const found = await readProposedPlan(scope, by.now)
  if (!found || found.proposal.id !== id || found.isOvertaken) return false
  const { today, terms, rows } = await readPlanStatements(scope, by.now)
  const { firstDay, content } = found.proposal
  const before = rows.filter(({ doneOn }) => doneOn === null)
  if (!(await putProposalInForce(scope, { id, now: by.now }))) return false
  await keepPlannedVisits(scope, {
    ...{ kept: { firstDay, asOf: today }, request: content, bays: terms?.bays.length ?? 0 },
    ...{ visits: found.proposed, by: by.by, now: by.now },
  })
  const there = new Set(before.map((row) => row.id))
  const added = (await readPlanVisits(scope, today)).filter((row) => !there.has(row.id))
  const visits = [
    ...before.map((row) => ({ id: row.id, row: rowOf(row) })),
    ...added.map((row) => ({ id: row.id, row: null })),
  ]
  await notePlanAct(scope, { act: 'taken', unit: null }, { ...NOTHING_BEFORE, visits, plan: id }, by)
  return true
}

/** Leaves the proposed plan. @returns false where it is not proposed any more */
export async function leaveProposedPlan(scope: OrganisationScope, id: string, by: By): Promise<boolean> {
  await holdPlan(scope)
  if (!(await leaveProposal(scope, { id, now: by.now }))) return false
  await notePlanAct(scope, { act: 'left', unit: null }, { ...NOTHING_BEFORE, plan: id }, by)
  return true
}

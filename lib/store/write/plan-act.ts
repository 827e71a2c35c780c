import type { Day } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { PlanVisitRow } from '../read/plan-visits'
import type { OrganisationScope } from '../with-organisation'
import { proposeAgain } from './plan-proposal'
import { dropPlanVisits, putPlanVisit } from './put-plan-visit'

export const PLAN_ACTS = [
  'put-on',
  'moved',
  'pinned',
  'unpinned',
  'promised',
  'unpromised',
  'forbidden',
  'away',
  'booked',
  'withdrawn',
  'done',
  'taken',
  'left',
] as const
export type PlanActName = (typeof PLAN_ACTS)[number]

type Place = { weekOn: Day; bay: number }

/** What was done, in data. */
export type ToldAct = {
  act: PlanActName
  unit: string | null
  from?: Place
  to?: Place
  /** What a move costs; negative: it gains. */
  cost?: number
  what?: string
  whom?: string
}

/** How it was before. */
export type BeforeAct = {
  /** Null: it was not there. */
  visits: { id: string; row: PlanVisitRow | null }[]
  /** Other work and closed days whose standing it changed, and whether they stood before. */
  work: { id: string; stood: boolean }[]
  closed: { id: string; stood: boolean }[]
  /** What it did with proposals. */
  proposalActs: string[]
  /** The plan that it put in force, or left: it is proposed again. */
  plan?: string
}

type By = { now: Date; by: string | null }

/** Notes what a person did with the plan, so that it can be undone. */
export async function notePlanAct(
  { tx, organisation }: OrganisationScope,
  told: ToldAct,
  before: BeforeAct,
  { now, by }: By,
): Promise<void> {
  await tx.$executeRaw`
    insert into plan_acts (organisation_id, id, act, told, before, at, by)
    values (${organisation}::uuid, ${newId(now)}::uuid, ${told.act}, ${JSON.stringify(told)}::jsonb,
      ${JSON.stringify(before)}::jsonb, ${now}, ${by}::uuid)`
}

/**
 * Takes back the last thing that was done with the plan: visits, other work and closed days are as before.
 *
 * @returns what stood before it, with what it did with proposals; null where it is not the last that stands
 */
export async function undoPlanAct(
  scope: OrganisationScope,
  id: string,
  { now, by }: By,
): Promise<BeforeAct | null> {
  const { tx } = scope
  const [undone] = await tx.$queryRaw<{ before: BeforeAct }[]>`
    update plan_acts act set undone_at = ${now}, undone_by = ${by}::uuid
    where act.id::text = ${id} and act.undone_at is null and not exists (
      select from plan_acts later where later.undone_at is null and (later.at, later.id) > (act.at, act.id))
      and act.at >= coalesce((select max(in_force_at) from plans), '-infinity')
    returning before`
  if (!undone) return null
  const { visits, work, closed, plan } = undone.before
  if (plan !== undefined) await proposeAgain(scope, plan)
  await dropPlanVisits(
    scope,
    visits.map((visit) => visit.id),
  )
  for (const { row } of visits) if (row) await putPlanVisit(scope, { ...row, madeAt: new Date(row.madeAt) })
  for (const { id: changed, stood } of work) await standWork(scope, { id: changed, stands: stood, now })
  for (const { id: changed, stood } of closed) await standClosed(scope, { id: changed, stands: stood, now })
  return undone.before
}

type Standing = { id: string; stands: boolean; now: Date }

/** Lets other work stand, or takes it back. @returns whether there is such work */
export async function standWork({ tx }: OrganisationScope, { id, stands, now }: Standing): Promise<boolean> {
  const changed = await tx.$executeRaw`
    update plan_work set undone_at = ${stands ? null : now}::timestamptz where id::text = ${id}`
  return changed > 0
}

/** Lets closed days stand, or takes them back. @returns whether there are such days */
export async function standClosed(
  { tx }: OrganisationScope,
  { id, stands, now }: Standing,
): Promise<boolean> {
  const changed = await tx.$executeRaw`
    update plan_closed set undone_at = ${stands ? null : now}::timestamptz where id::text = ${id}`
  return changed > 0
}

import type { MoreHours } from '@/lib/decisions/plan-left'
import type { PlanJob } from '@/lib/decisions/plan-request'
import type { PlanVisit } from '@/lib/decisions/plan-value'
import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'
import type { Urgent } from './urgent-vehicles'

/** What a plan rests on, and what it could not do. */
export type PlanContent = {
  /** Each with what it gains by week, from the plan's first day on. */
  jobs: PlanJob[]
  /** By week: what one more hour would gain at most, at the margin. */
  hourPrices: number[]
  /** What one more bay day would bring, by week; none where nobody has found out. */
  moreHours: MoreHours[]
  /** As they were planned; people may have moved them since. */
  visits: PlanVisit[]
  /** By number, the vehicles that had to stop or to be booked in when it was made; none told of by older plans. */
  urgent?: Record<string, Urgent>
}

/** A plan that was made, or is being made. */
export type StoredPlan = {
  id: string
  firstDay: Day
  weeks: number
  asOf: Day
  gain: number
  /** Null where none is known. */
  bound: number | null
  madeAt: Date
  inForceAt: Date | null
  content: PlanContent
}

/** The plan in force; null before the first. */
export function readPlanInForce(scope: OrganisationScope): Promise<StoredPlan | null> {
  return readPlan(scope, null)
}

/** The columns of a plan as it is told. */
export const PLAN = Prisma.sql`id::text, first_day - date '1970-01-01' as "firstDay", weeks,
  as_of - date '1970-01-01' as "asOf", gain, bound, made_at as "madeAt", in_force_at as "inForceAt", content`

/** A plan by its id; null where there is none. */
export async function readPlan({ tx }: OrganisationScope, id: string | null): Promise<StoredPlan | null> {
  const [found] = await tx.$queryRaw<(Omit<StoredPlan, 'content'> & { content: string })[]>`
    select ${PLAN} from plans where case when ${id}::text is null then in_force_at is not null else id::text = ${id} end
    order by in_force_at desc nulls last, id desc limit 1`
  return found ? { ...found, content: JSON.parse(found.content) as PlanContent } : null
}

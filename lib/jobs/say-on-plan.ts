import type { BookedWork } from '@/lib/decisions/plan-weeks'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { bookPlanWork } from '@/lib/store/write/book-plan-work'
import { closePlanDays } from '@/lib/store/write/close-plan-days'
import { holdPlan } from '@/lib/store/write/hold-plan'
import { notePlanAct, standClosed, standWork } from '@/lib/store/write/plan-act'
import type { Day } from '@/lib/units/dates'
import type { By } from './act-on-plan'

const NOTHING_BEFORE = { visits: [], work: [], closed: [], proposalActs: [] }

/** Books other work. @returns false where it names a vehicle that is not there */
export async function bookOtherWork(
  scope: OrganisationScope,
  work: BookedWork & { what: string },
  by: By,
): Promise<boolean> {
  await holdPlan(scope)
  const id = await bookPlanWork(scope, work, by)
  if (id === null) return false
  const told = { act: 'booked', unit: work.unit, what: work.what } as const
  await notePlanAct(scope, told, { ...NOTHING_BEFORE, work: [{ id, stood: false }] }, by)
  return true
}

/** Notes days on which a vehicle is not available. @returns false where there is no such vehicle */
export async function noteAway(
  scope: OrganisationScope,
  { unit, from, until }: { unit: string; from: Day; until: Day },
  by: By,
): Promise<boolean> {
  await holdPlan(scope)
  const id = await closePlanDays(scope, { unit, from, until, why: 'away' }, by)
  if (id === null) return false
  await notePlanAct(scope, { act: 'away', unit }, { ...NOTHING_BEFORE, closed: [{ id, stood: false }] }, by)
  return true
}

/** Takes other work, or closed days, back. */
export async function withdrawFromPlan(
  scope: OrganisationScope,
  { kind, id, what }: { kind: 'work' | 'closed'; id: string; what: string },
  by: By,
): Promise<void> {
  await holdPlan(scope)
  const changed = { id, stands: false, now: by.now }
  const isThere = kind === 'work' ? await standWork(scope, changed) : await standClosed(scope, changed)
  if (!isThere) return
  const before = { ...NOTHING_BEFORE, [kind]: [{ id, stood: true }] }
  await notePlanAct(scope, { act: 'withdrawn', unit: null, what }, before, by)
}

import { mondayOf } from '@/lib/decisions/plan-weeks'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readBookingChanges, readFirstAdviceChange, readStatedParts } from '@/lib/store/read/plan-changes'
import type { StoredPlan } from '@/lib/store/read/plan-in-force'
import type { StoredPlanTerms } from '@/lib/store/read/plan-terms'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { readUrgentVehicles, type Urgent } from '@/lib/store/read/urgent-vehicles'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'

/** What has changed since a plan was made; vehicles by their numbers, each list in their order. */
export type PlanChanges = {
  /** The first day on which something did. */
  since: Day
  /** They must not be driven since. */
  stopped: string[]
  /** They are to be booked in since. */
  toBook: string[]
  /** They had to come, and need not any more. */
  released: string[]
  /** Something was said of the stock of a part that a job of theirs needs. */
  parts: string[]
  /** Something was booked for them, or they cannot come when they could, or that was taken back. */
  booked: string[]
  /** Other work without a vehicle was booked or taken back. */
  otherWork: boolean
  /** Bays, hours or weeks were changed. */
  terms: boolean
  /** Its first week is over. */
  weekOver: boolean
}

type Now = { today: Day; terms: StoredPlanTerms | null }

/** What a plan does not know, because it was made before; null where it knows all. */
export async function planChanges(
  scope: OrganisationScope,
  plan: StoredPlan,
  { today, terms }: Now,
): Promise<PlanChanges | null> {
  const { madeAt } = plan
  const { timeZone } = await readTerms(scope)
  const advice = await adviceChanges(scope, plan)
  const parts = await partChanges(scope, plan)
  const bookings = await readBookingChanges(scope, madeAt)
  const termsAt = terms !== null && terms.madeAt > madeAt ? terms.madeAt : null
  const weekOver = mondayOf(today) > plan.firstDay
  const instants = [advice.at, parts.at, bookings[0]?.at ?? null, termsAt].flatMap((at) =>
    at === null ? [] : [dayIn(timeZone, at)],
  )
  const days = [...instants, ...(weekOver ? [plan.firstDay + DAYS_TO_NEXT_MONDAY] : [])]
  if (days.length === 0) return null
  return {
    since: Math.min(...days),
    ...{ stopped: advice.stopped, toBook: advice.toBook, released: advice.released, parts: parts.units },
    booked: inOrder(bookings.flatMap(({ unit }) => unit ?? [])),
    otherWork: bookings.some(({ unit }) => unit === null),
    terms: termsAt !== null,
    weekOver,
  }
}

const DAYS_TO_NEXT_MONDAY = 7

const inOrder = (units: Iterable<string>): string[] =>
  [...new Set(units)].sort(new Intl.Collator('en', { numeric: true }).compare)

/** Only what makes a vehicle come, or not: an eye that is kept on it changes no plan. */
async function adviceChanges(scope: OrganisationScope, { content, madeAt }: StoredPlan) {
  const then = content.urgent
  if (!then) return { stopped: [], toBook: [], released: [], at: null }
  const now = await readUrgentVehicles(scope)
  const became = (advice: Urgent) =>
    inOrder([...now].flatMap(([unit, each]) => (each === advice && then[unit] !== advice ? [unit] : [])))
  const [stopped, toBook] = [became('stop'), became('book')]
  const released = inOrder(Object.keys(then).filter((unit) => !now.has(unit)))
  const changed = [...stopped, ...toBook, ...released]
  if (changed.length === 0) return { stopped, toBook, released, at: null }
  // A vehicle that is gone, or new, has no history of its own: then it is since the plan was made.
  const at = (await readFirstAdviceChange(scope, changed, madeAt)) ?? madeAt
  return { stopped, toBook, released, at }
}

async function partChanges(scope: OrganisationScope, { content, madeAt }: StoredPlan) {
  const stated = new Map((await readStatedParts(scope, madeAt)).map(({ part, at }) => [part, at]))
  const known = stated.size > 0 ? await readKnownLibrary(scope) : null
  if (!known) return { units: [], at: null }
  const parts = new Map(
    known.library.families.flatMap(({ key, weakPoints }) =>
      weakPoints.map((point) => [`${key} ${point.key}`, point.part]),
    ),
  )
  const families = new Map((await readStandingVehicles(scope)).map(({ unit, family }) => [unit, family]))
  const waiting = content.jobs.flatMap(({ unit, weakPoint }) => {
    const part = parts.get(`${families.get(unit)} ${weakPoint}`)
    const at = part ? stated.get(part) : undefined
    return at ? [{ unit, at }] : []
  })
  const first = waiting.reduce<Date | null>((a, { at }) => (a === null || at < a ? at : a), null)
  return { units: inOrder(waiting.map(({ unit }) => unit)), at: first }
}

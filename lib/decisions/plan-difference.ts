/** What another plan would change: which visits move, come in and go, and what that does to the failures to expect. */
import type { Day } from '@/lib/units/dates'

/** A visit by its Monday. */
export interface PlannedVisit {
  unit: string
  weekOn: Day
  bay: number
  /** Ids. */
  jobs: readonly string[]
}

export interface PlanDifference {
  moved: { unit: string; from: Day; to: Day }[]
  added: { unit: string; to: Day }[]
  dropped: { unit: string; from: Day }[]
  /** In the same week, with other jobs. */
  otherJobs: string[]
  /** In the same week with the same jobs, in another bay. */
  otherBay: string[]
  /** As they are. */
  same: number
}

/** Each vehicle has one visit that is open; lists stand by week, then by number. */
export function planDifference(
  before: readonly PlannedVisit[],
  after: readonly PlannedVisit[],
): PlanDifference {
  const [was, becomes] = [byUnit(before), byUnit(after)]
  const difference: PlanDifference = {
    ...{ moved: [], added: [], dropped: [], otherJobs: [], otherBay: [], same: 0 },
  }
  for (const { unit, weekOn: to, bay, jobs } of inOrder(after)) {
    const old = was.get(unit)
    if (!old) difference.added.push({ unit, to })
    else if (old.weekOn !== to) difference.moved.push({ unit, from: old.weekOn, to })
    else if (!sameJobs(old.jobs, jobs)) difference.otherJobs.push(unit)
    else if (old.bay !== bay) difference.otherBay.push(unit)
    else difference.same++
  }
  for (const { unit, weekOn: from } of inOrder(before))
    if (!becomes.has(unit)) difference.dropped.push({ unit, from })
  return difference
}

/** Whether another plan would change anything. */
export const isDifferent = ({ moved, added, dropped, otherJobs, otherBay }: PlanDifference): boolean =>
  moved.length + added.length + dropped.length + otherJobs.length + otherBay.length > 0

const byUnit = (visits: readonly PlannedVisit[]) => new Map(visits.map((visit) => [visit.unit, visit]))

const natural = new Intl.Collator('en', { numeric: true })
const inOrder = (visits: readonly PlannedVisit[]) =>
  [...visits].sort((a, b) => a.weekOn - b.weekOn || natural.compare(a.unit, b.unit))

const sameJobs = (a: readonly string[], b: readonly string[]) =>
  a.length === b.length && [...a].sort().join('\n') === [...b].sort().join('\n')

/** A chance within so many days, by rising days. */
export interface ChanceWithin {
  days: number
  pFail: number
}

/**
 * The chance within any number of days, from those that are kept: between two of them the rate of failing is even, and
 * beyond the last as between the last two. Never above the chance that stands for certain.
 */
export function chanceWithin(known: readonly ChanceWithin[], days: number): number {
  let [fromDays, fromHazard, rate] = [0, 0, 0]
  for (const { days: toDays, pFail } of known) {
    const hazard = -Math.log1p(-Math.min(pFail, NEARLY_CERTAIN))
    rate = Math.max(hazard - fromHazard, 0) / (toDays - fromDays)
    if (days <= toDays) break
    ;[fromDays, fromHazard] = [toDays, Math.max(hazard, fromHazard)]
  }
  return -Math.expm1(-(fromHazard + rate * Math.max(days - fromDays, 0)))
}

const NEARLY_CERTAIN = 1 - 1e-9

/**
 * How many failures are to be expected of some jobs' parts until the end of the plan: each until its visit, or until the
 * end where it has none.
 *
 * @param chancesOf by the job's id; none: it is left out
 */
export function failuresUntil(
  jobs: Iterable<string>,
  visits: readonly PlannedVisit[],
  { today, end, chancesOf }: { today: Day; end: Day; chancesOf: ReadonlyMap<string, ChanceWithin[]> },
): number {
  const doneOn = new Map(visits.flatMap(({ weekOn, jobs: own }) => own.map((job) => [job, weekOn])))
  let sum = 0
  for (const job of jobs) {
    const days = Math.max((doneOn.get(job) ?? end) - today, 0)
    sum += chanceWithin(chancesOf.get(job) ?? [], days)
  }
  return sum
}

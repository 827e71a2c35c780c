/** When a job can begin that needs a part: what is there, what is to come, and how long it takes to get more. */
import type { PartStock } from '@/lib/records/part-stock'
import type { Day } from '@/lib/units/dates'
import type { PlanJob } from './plan-request'

/**
 * Where a part comes from: `unsaid` nobody has said how many there are, so nothing is held back for it; `on-hand`;
 * `on-order` there by the day for which it is announced, or by the lead time where no day is; `overdue` announced for a
 * day that has passed, so that the lead time from now is all that can be said; `to-order` there a lead time from now.
 */
export type PartSource = 'unsaid' | 'on-hand' | 'on-order' | 'overdue' | 'to-order'

export interface PartArrival {
  source: PartSource
  /** The first day on which it is there; null where nobody has said how long it takes. */
  from: Day | null
}

/**
 * When so many pieces of a part are there.
 *
 * @param stock what stands of the part; nothing where nobody has said anything
 * @param pieces how many, those for others before it included
 */
export function partArrival(stock: PartStock | undefined, pieces: number, today: Day): PartArrival {
  if (!stock || stock.onHand === null) return { source: 'unsaid', from: today }
  const { onHand, dueOn, leadDays } = stock
  const onOrder = stock.onOrder ?? 0
  const ordered = leadDays === null ? null : today + leadDays
  if (pieces <= onHand) return { source: 'on-hand', from: today }
  if (pieces > onHand + onOrder) return { source: 'to-order', from: ordered }
  if (dueOn === null) return { source: 'on-order', from: ordered }
  return dueOn < today ? { source: 'overdue', from: ordered } : { source: 'on-order', from: dueOn }
}

export interface PlanParts {
  /** The part that a job takes a piece of for each of its positions; null where none is known. */
  partOf: (job: Pick<PlanJob, 'unit' | 'weakPoint'>) => string | null
  stock: ReadonlyMap<string, PartStock>
  today: Day
  /** When the plan's first week begins. */
  firstDay: Day
  weeks: number
  /** Jobs, by id, that somebody was promised: their parts are theirs before others'. */
  agreed?: ReadonlySet<string>
}

/** A job as a plan may choose it, and when its part comes; null where it needs none. */
export interface SuppliedJob {
  job: PlanJob
  part: string | null
  arrival: PartArrival | null
}

const WEEK = 7

/**
 * Jobs with the first week that begins with their part there (`partsInWeek`). The pieces go to the jobs that must not
 * wait, then to those that are agreed, then to those that gain most; who comes later waits for the next pieces. A job whose part comes after the plan,
 * or on a day that nobody knows, is put beyond its last week. A vehicle that must not be driven waits for no part: its
 * job may be planned at once, and `arrival` says what is missing.
 *
 * @returns in the order in which they were given
 */
export function jobsWithParts(jobs: readonly PlanJob[], parts: PlanParts): SuppliedJob[] {
  const taken = new Map<string, number>()
  const supplied = new Map<PlanJob, SuppliedJob>()
  for (const job of byUrgency(jobs, parts.agreed ?? new Set())) {
    const part = parts.partOf(job)
    if (part === null) {
      supplied.set(job, { job: { ...job, partsInWeek: 0 }, part, arrival: null })
      continue
    }
    const pieces = (taken.get(part) ?? 0) + job.positions.length
    taken.set(part, pieces)
    const arrival = partArrival(parts.stock.get(part), pieces, parts.today)
    const partsInWeek = job.stop ? 0 : firstWeekFrom(arrival.from, parts)
    supplied.set(job, { job: { ...job, partsInWeek }, part, arrival })
  }
  return jobs.map((job) => supplied.get(job)!)
}

function firstWeekFrom(from: Day | null, { firstDay, weeks }: PlanParts): number {
  if (from === null) return weeks
  return Math.min(Math.max(Math.ceil((from - firstDay) / WEEK), 0), weeks)
}

const mostGained = ({ gainByWeek }: PlanJob) => Math.max(...gainByWeek)

const byUrgency = (jobs: readonly PlanJob[], agreed: ReadonlySet<string>): PlanJob[] => {
  const urgency = ({ id, stop }: PlanJob) => 2 * Number(stop) + Number(agreed.has(id))
  return [...jobs].sort((a, b) => urgency(b) - urgency(a) || mostGained(b) - mostGained(a))
}

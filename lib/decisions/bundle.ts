/**
 * Which jobs to do together on one visit: the set that saves most against doing each by itself later.
 *
 * saving = Σ (K(slot) − C_p) of the members + (members − 1) · price of a visit + labour rate · shared hours saved. Jobs
 * of one access group need its stripping and refitting once: hours = Σ (hours − shared) + the largest of their shared
 * hours. Where the vehicle is there anyway, every member saves its visit.
 */
import { isAsGoodAsNew } from './inner/job-terms'
import type { MoneyBand } from './waiting'

/** One component as a job that could be done on a visit. */
export interface BundleCandidate {
  weakPoint: string
  position: number
  /** K(slot) − C_p with the damage upstream that it avoids: what doing it now saves against leaving it; negative: costs. */
  gain: number
  /** Its 80 % band. */
  gainBand: MoneyBand
  /** C_p. */
  cost: number
  /** By itself a reason for the vehicle to come. */
  due: boolean
  /** The vehicle must not be driven before it is done. */
  stop: boolean
  /** Hours of the job done alone, the shared ones included. */
  hours: number
  sharedHours: number
  /** Jobs of one group share their stripping; null: it shares with none. */
  access: string | null
  /** The part that it takes; null where none is named. */
  part: string | null
}

export interface BundleTerms {
  visit: number
  labourRate: number
  /** It is there now for another reason: coming costs nothing more. */
  hereNow?: boolean
  /** Hours that there are. */
  hoursFree?: number
  /** How many there are of each part: what is not there is not proposed, unless the vehicle must not be driven. */
  onShelf?: ReadonlyMap<string, number>
}

export interface Bundle<C extends BundleCandidate = BundleCandidate> {
  members: C[]
  /** Together, and how many of them are saved by doing them together. */
  hours: number
  hoursSaved: number
  saving: number
  /** 80 % band of the same members: all at the 10th, all at the 90th percentile of what each gains. */
  savingBand: MoneyBand
  /** No other set saves more; false where there were too many to try all that matters. */
  exact: boolean
}

/** Up to so many jobs every set that matters is tried, however long it takes. */
const EXACT_UP_TO = 16
/** With more, so many steps: the most promising sets come first. */
const MOST_STEPS = 300_000
const HOURS_SLACK = 1e-6

/** @returns null where no job is due, or none that is due fits */
export function chooseBundle<C extends BundleCandidate>(
  candidates: readonly C[],
  terms: BundleTerms,
): Bundle<C> | null {
  const sorted = inOrder(candidates.filter((each) => canPay(each, terms)))
  const search = new BundleSearch(sorted, terms)
  const chosen = search.run()
  return chosen && bundleOf(chosen, terms, search.exact)
}

/** What a set of jobs saves and takes, from the definition alone. */
export function bundleOf<C extends BundleCandidate>(
  members: readonly C[],
  terms: BundleTerms,
  exact: boolean,
): Bundle<C> {
  const largest = new Map<string, number>()
  let [hours, hoursSaved, jobs, low, high] = [0, 0, 0, 0, 0]
  for (const { access, sharedHours, ...job } of members) {
    hours += job.hours
    jobs += job.gain
    low += job.gainBand.low
    high += job.gainBand.high
    if (access === null) continue
    const opened = largest.get(access)
    if (opened !== undefined) hoursSaved += Math.min(opened, sharedHours)
    largest.set(access, Math.max(opened ?? 0, sharedHours))
  }
  const visits = members.length - (terms.hereNow ? 0 : 1)
  const together = visits * terms.visit + hoursSaved * terms.labourRate
  return {
    members: [...members],
    hours: hours - hoursSaved,
    hoursSaved,
    saving: jobs + together,
    savingBand: { low: low + together, high: high + together },
    exact,
  }
}

/** Bundles by what they save an hour of a bay, the most first; those that take no hours before all others. */
export function byBayHour<B extends Pick<Bundle, 'saving' | 'hours'>>(bundles: readonly B[]): B[] {
  const worth = ({ saving, hours }: B) => (hours > 0 ? saving / hours : Math.sign(saving) * Infinity || 0)
  return [...bundles].sort((a, b) => {
    const [one, other] = [worth(a), worth(b)]
    return one === other ? 0 : other - one
  })
}

const isReason = ({ due, stop }: Pick<BundleCandidate, 'due' | 'stop'>) => due || stop

/** Most that a job can add to a set: its visit and its stripping saved. */
const mostAdded = (job: PayingJob, { visit, labourRate }: BundleTerms) =>
  job.gain + visit + (job.access === null ? 0 : job.sharedHours * labourRate)

type PayingJob = Pick<BundleCandidate, 'gain' | 'cost' | 'due' | 'stop' | 'access' | 'sharedHours'>

/** Whether some set could be better with this job than without it; one that gains less cannot either. */
export function canPay(job: PayingJob, terms: BundleTerms): boolean {
  if (isReason(job)) return true
  return !isAsGoodAsNew(job) && mostAdded(job, terms) > 0
}

/** Groups together, the largest stripping first: who comes after the first of a group saves all of its own. */
function inOrder<C extends BundleCandidate>(candidates: readonly C[]): C[] {
  const firstOf = new Map<string, number>()
  const place = (job: C, i: number) => {
    if (job.access === null) return i
    const first = firstOf.get(job.access) ?? i
    firstOf.set(job.access, first)
    return first
  }
  return candidates
    .map((job, i) => ({ job, place: place(job, i), i }))
    .sort((a, b) => a.place - b.place || b.job.sharedHours - a.job.sharedHours || a.i - b.i)
    .map(({ job }) => job)
}

/** What is chosen so far, on the way through the candidates. */
interface Way {
  worth: number
  hours: number
  reasons: number
  /** The group that was opened last, whose members come one after the other. */
  opened: string | null
}

/** Branch and bound: each job is taken or left, unless what is left cannot beat the best set any more. */
class BundleSearch<C extends BundleCandidate> {
  private best: C[] | null = null
  private bestWorth = Number.NEGATIVE_INFINITY
  private readonly taken: C[] = []
  private readonly used = new Map<string, number>()
  /** From each candidate on: the most that all after it can add, and how many of them are reasons to come. */
  private readonly most: Float64Array
  private readonly reasons: Int32Array
  /** One stop job more is worth more than all money at stake. */
  private readonly stopWorth: number
  private steps = 0
  exact = true

  constructor(
    private readonly jobs: readonly C[],
    private readonly terms: BundleTerms,
  ) {
    const { visit, labourRate } = terms
    const atStake = (job: C) => Math.abs(job.gain) + visit + job.sharedHours * labourRate
    this.stopWorth = 1 + jobs.reduce((sum, job) => sum + 2 * atStake(job), 0)
    this.most = new Float64Array(jobs.length + 1)
    this.reasons = new Int32Array(jobs.length + 1)
    for (let i = jobs.length - 1; i >= 0; i--) {
      const job = jobs[i]!
      const adds = mostAdded(job, terms) + (job.stop ? this.stopWorth : 0)
      this.most[i] = this.most[i + 1]! + Math.max(adds, 0)
      this.reasons[i] = this.reasons[i + 1]! + (isReason(job) ? 1 : 0)
    }
  }

  run(): C[] | null {
    this.from(0, { worth: 0, hours: 0, reasons: 0, opened: null })
    return this.best
  }

  private from(i: number, way: Way): void {
    const { jobs } = this
    if (way.reasons > 0 && way.worth > this.bestWorth + 1e-9) {
      this.bestWorth = way.worth
      this.best = [...this.taken]
    }
    if (i === jobs.length || way.reasons + this.reasons[i]! === 0) return
    if (way.worth + this.most[i]! <= this.bestWorth + 1e-9) return
    if (jobs.length > EXACT_UP_TO && this.steps++ > MOST_STEPS) {
      this.exact = false
      return
    }
    const job = jobs[i]!
    if (this.fits(job, way)) this.take(i, job, way)
    this.from(i + 1, way)
  }

  private take(i: number, job: C, way: Way): void {
    const { visit, labourRate } = this.terms
    const saved = this.savedBy(job, way)
    // What the vehicle must not be driven without is got at once.
    const part = job.stop ? null : job.part
    const count = part === null ? 0 : (this.used.get(part) ?? 0)
    if (part !== null) this.used.set(part, count + 1)
    this.taken.push(job)
    this.from(i + 1, {
      worth: way.worth + job.gain + visit + saved * labourRate + (job.stop ? this.stopWorth : 0),
      hours: way.hours + job.hours - saved,
      reasons: way.reasons + (isReason(job) ? 1 : 0),
      opened: job.access ?? way.opened,
    })
    this.taken.pop()
    if (part !== null) this.used.set(part, count)
  }

  private savedBy(job: C, { opened }: Way): number {
    return job.access !== null && job.access === opened ? job.sharedHours : 0
  }

  private fits(job: C, way: Way): boolean {
    const { hoursFree = Number.POSITIVE_INFINITY, onShelf } = this.terms
    if (way.hours + job.hours - this.savedBy(job, way) > hoursFree + HOURS_SLACK) return false
    if (!onShelf || job.part === null || job.stop) return true
    return (this.used.get(job.part) ?? 0) < (onShelf.get(job.part) ?? 0)
  }
}

/**
 * Whether to telephone a customer, to write to them, to ask first, or to leave them alone; and of which jobs.
 *
 * A letter asks for money, so it must be right where we are wrong the other way: its jobs are those that pay together
 * even if every one of them saves no more than the low end of its 80 % band. The customer's saving is told with both
 * ends. A vehicle that must not be driven is never written about: whoever drives it is telephoned.
 */
import type { Day } from '@/lib/units/dates'
import { type Bundle, type BundleCandidate, type BundleTerms, bundleOf, chooseBundle } from './bundle'
import { isSilenced, type Standing } from './proposals'

/** A job at the customer's prices. */
export interface CallCandidate extends BundleCandidate {
  /** It pays against the best of all later moments, at the low end of that band too. */
  sure: boolean
  /** When somebody looked at it last; null where nobody has, or too long ago. */
  lookedOn: Day | null
  /** The interval that the library states of it has run out, and that is no hunch. */
  intervalOut: boolean
}

/** A proposal that stands for some of a vehicle's parts. */
export type StandingProposal = {
  weakPoint: string
  positions: readonly number[]
  standing: Standing
  /** When the customer was told of it last. */
  toldOn: Day | null
}

export interface CallFacts<C extends CallCandidate = CallCandidate> {
  assessed: boolean
  /** Why it is to be telephoned about: it must not be driven, or a part is on record as failed. */
  telephone: 'stop' | 'failed' | null
  candidates: readonly C[]
  /** What the customer pays for an hour. */
  labourRate: number
  proposals: readonly StandingProposal[]
  /** Null where nobody knows whose it is. */
  customer: string | null
  optedOutOn: Day | null
  /** The last letter to this customer, about whichever vehicle. */
  writtenOn: Day | null
  lastRecordOn: Day | null
  today: Day
  letterEveryDays: number
  quietMonths: number
}

/** Why nobody writes. */
export type Silence =
  | { why: 'not-assessed' | 'nothing-due' | 'in-hand' | 'nobody-looked' | 'not-at-low-end' | 'no-customer' }
  | { why: 'said-no'; until: Day | null }
  | { why: 'opted-out'; on: Day }
  | { why: 'written-lately'; on: Day; until: Day }

export type Call<C extends CallCandidate = CallCandidate> =
  | { kind: 'telephone'; because: 'stop' | 'failed' }
  | { kind: 'write'; bundle: Bundle<C> }
  /** Worth it, but nothing was heard of the vehicle for long. */
  | { kind: 'ask-first'; bundle: Bundle<C>; quietSince: Day | null }
  /** `bundle` where a job would be worth it. */
  | { kind: 'silent'; silence: Silence; bundle: Bundle<C> | null }

const MONTH_DAYS = 365.25 / 12

export function worthACall<C extends CallCandidate>(facts: CallFacts<C>): Call<C> {
  const { assessed, telephone, candidates, labourRate } = facts
  if (!assessed) return silent({ why: 'not-assessed' })
  if (telephone !== null) return { kind: 'telephone', because: telephone }
  if (!candidates.some(({ due }) => due)) return silent({ why: 'nothing-due' })
  const open = candidates.filter((job) => heldBack(job, facts) === null)
  if (!open.some(({ due }) => due)) return silent(heldBackAll(facts))
  const looked = open.filter(({ lookedOn, intervalOut }) => lookedOn !== null || intervalOut)
  if (!looked.some(({ due }) => due)) return silent({ why: 'nobody-looked' })
  const bundle = surelyWorth(looked, labourRate)
  if (bundle === null) return silent({ why: 'not-at-low-end' })
  return withCustomer(bundle, facts)
}

/** What of a worthwhile letter its customer makes. */
function withCustomer<C extends CallCandidate>(bundle: Bundle<C>, facts: CallFacts<C>): Call<C> {
  const { customer, optedOutOn, writtenOn, lastRecordOn, today, letterEveryDays, quietMonths } = facts
  if (customer === null) return silent({ why: 'no-customer' }, bundle)
  if (optedOutOn !== null) return silent({ why: 'opted-out', on: optedOutOn }, bundle)
  const until = (writtenOn ?? Number.NEGATIVE_INFINITY) + letterEveryDays
  if (writtenOn !== null && until > today)
    return silent({ why: 'written-lately', on: writtenOn, until }, bundle)
  const isQuiet = lastRecordOn === null || today - lastRecordOn > quietMonths * MONTH_DAYS
  return isQuiet ? { kind: 'ask-first', bundle, quietSince: lastRecordOn } : { kind: 'write', bundle }
}

const silent = <C extends CallCandidate>(silence: Silence, bundle: Bundle<C> | null = null): Call<C> => ({
  kind: 'silent',
  silence,
  bundle,
})

/**
 * The jobs that save most together if each saves the low end of its band; what they save is told from their own means
 * and bands. A visit saved counts for nothing: whoever leaves a job may come once for several all the same.
 *
 * @returns null where none saves anything then
 */
export function surelyWorth<C extends CallCandidate>(
  candidates: readonly C[],
  labourRate: number,
): Bundle<C> | null {
  const terms: BundleTerms = { visit: 0, labourRate }
  const atLowEnd = candidates.map((job) => ({
    ...job,
    gain: job.gainBand.low,
    due: job.sure && job.gainBand.low > 0,
    job,
  }))
  const chosen = chooseBundle(atLowEnd, terms)
  if (chosen === null || !(chosen.saving > 0)) return null
  return bundleOf(
    chosen.members.map(({ job }) => job),
    terms,
    chosen.exact,
  )
}

type HeldBack = { why: 'said-no'; until: Day | null } | { why: 'in-hand' }

/** What keeps a job out of letters: a no until its day, or that it is in hand already; null where nothing does. */
export function heldBack(
  { weakPoint, position }: Pick<CallCandidate, 'weakPoint' | 'position'>,
  { proposals, today, letterEveryDays }: Pick<CallFacts, 'proposals' | 'today' | 'letterEveryDays'>,
): HeldBack | null {
  const about = proposals.filter(
    (each) =>
      each.weakPoint === weakPoint && (each.positions.length === 0 || each.positions.includes(position)),
  )
  for (const { standing } of about)
    if (isSilenced(standing, today)) return { why: 'said-no', until: standing.askAgainOn }
  const isInHand = about.some(({ standing: { state }, toldOn }) => {
    if (state === 'accepted' || state === 'booked' || state === 'done') return true
    return state === 'told' && toldOn !== null && toldOn + letterEveryDays > today
  })
  return isInHand ? { why: 'in-hand' } : null
}

/** Why every due job is held back: a no first, for it is the customer's own word. */
function heldBackAll(facts: CallFacts): Silence {
  const reasons = facts.candidates.filter(({ due }) => due).map((job) => heldBack(job, facts))
  return reasons.find((each) => each?.why === 'said-no') ?? { why: 'in-hand' }
}

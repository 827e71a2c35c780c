/** A proposal, the object between advice and repair: what has become of it, what may be done with it, and who was right. */
import type { RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'

/** How somebody was told. */
export const WAYS_TO_TELL = ['in-person', 'call', 'message', 'letter'] as const
export type WayToTell = (typeof WAYS_TO_TELL)[number]

/** What a person did with a proposal. */
export type ProposalAct =
  | { act: 'told'; whom: string; how: WayToTell }
  | { act: 'accepted' }
  /** `askAgainOn` null: not of ourselves. */
  | { act: 'declined'; reason: string; askAgainOn: Day | null }
  | { act: 'put-off'; reason: string; askAgainOn: Day }
  | { act: 'booked'; visitOn: Day }
  /** Without what was found, it is to be written up. */
  | { act: 'done'; doneOn: Day }
  /** It should not have been made. */
  | { act: 'dropped' }

export type ActName = ProposalAct['act']

export const PROPOSAL_STATES = [
  'made',
  'told',
  'accepted',
  'declined',
  'put-off',
  'booked',
  'done',
  'found',
  'dropped',
] as const
export type ProposalState = (typeof PROPOSAL_STATES)[number]

/** What stands: the state, and the acts that brought it there, the undone ones left out. */
export type Standing = {
  state: ProposalState
  /** When it is to be asked again; null where it is not, or nobody said no. */
  askAgainOn: Day | null
  visitOn: Day | null
  doneOn: Day | null
  /** What the work found; null where it was not noted, or there was none yet. */
  found: RepairRow['found']
}

/** Work on a vehicle as far as a proposal asks. */
export type Work = Pick<RepairRow, 'weakPoint' | 'positions' | 'doneOn' | 'found' | 'because'>
/** A proposal as far as work can be about it: no position stands for all of them. */
export type ProposedJob = { weakPoint: string; positions: readonly number[]; madeOn: Day }

/** The work on record that is about a job: at one of its positions, not before it was proposed; the earliest first. */
export function workOn<Row extends Work>(job: ProposedJob, repairs: readonly Row[]): Row[] {
  const here = ({ positions }: Row) =>
    positions.length === 0 || job.positions.length === 0 || positions.some((p) => job.positions.includes(p))
  return repairs
    .filter((row) => row.weakPoint === job.weakPoint && row.doneOn >= job.madeOn && here(row))
    .sort((a, b) => a.doneOn - b.doneOn)
}

/**
 * What has become of a proposal.
 *
 * Work that is on record closes it, whoever pressed what: a repair says more than a button. Else the last act counts.
 *
 * @param acts in their order, the undone ones left out
 * @param repairs live ones of the vehicle
 */
export function standingOf(
  job: ProposedJob,
  acts: readonly ProposalAct[],
  repairs: readonly Work[],
): Standing {
  const last = acts.at(-1)
  const nothing = { askAgainOn: null, visitOn: null, doneOn: null, found: null }
  if (last?.act === 'dropped') return { ...nothing, state: 'dropped' }
  const works = workOn(job, repairs)
  const work = works.find(({ found }) => found !== null) ?? works[0]
  if (work)
    return { ...nothing, state: work.found ? 'found' : 'done', doneOn: work.doneOn, found: work.found }
  switch (last?.act) {
    case undefined:
      return { ...nothing, state: 'made' }
    case 'told':
    case 'accepted':
      return { ...nothing, state: last.act }
    case 'declined':
    case 'put-off':
      return { ...nothing, state: last.act, askAgainOn: last.askAgainOn }
    case 'booked':
      return { ...nothing, state: 'booked', visitOn: last.visitOn }
    case 'done':
      return { ...nothing, state: 'done', doneOn: last.doneOn }
  }
}

const OPEN = ['told', 'accepted', 'declined', 'put-off', 'booked', 'done', 'dropped'] as const
const NEXT: Record<ProposalState, readonly ActName[]> = {
  made: OPEN,
  told: OPEN,
  accepted: ['told', 'declined', 'put-off', 'booked', 'done', 'dropped'],
  declined: ['told', 'accepted', 'put-off', 'booked', 'done', 'dropped'],
  'put-off': ['told', 'accepted', 'declined', 'booked', 'done', 'dropped'],
  booked: ['told', 'declined', 'put-off', 'booked', 'done', 'dropped'],
  done: [],
  found: [],
  dropped: [],
}

/** What may be done next. A customer who said no may change their mind; what is done is done, unless it is undone. */
export const actsAfter = (state: ProposalState): readonly ActName[] => NEXT[state]

/** Whether it still waits for something: what was declined for good does not. */
export function isOpen({ state, askAgainOn }: Standing): boolean {
  if (state === 'declined') return askAgainOn !== null
  return state !== 'done' && state !== 'found' && state !== 'dropped'
}

/** Whether nobody is to be written to about this job today: they said no, or not yet, and their date has not come. */
export function isSilenced({ state, askAgainOn }: Standing, today: Day): boolean {
  if (state !== 'declined' && state !== 'put-off') return false
  return askAgainOn === null || askAgainOn > today
}

/** What a proposal turned out to be, as far as records tell. */
export type Verdict =
  /** They said yes, and the part was failed or going. */
  | 'yes-and-due'
  /** They said yes, and the part was good. */
  | 'yes-and-good'
  /** The work was done; nobody noted what it found. */
  | 'not-noted'
  /** They said no or not yet, and it failed. */
  | 'no-and-failed'
  /** They said no or not yet, and it was going when it was opened. */
  | 'no-and-going'
  /** They said no or not yet, and it was good when it was opened. */
  | 'no-and-good'
  /** They said no or not yet, and it runs. */
  | 'no-and-runs'
  /** It failed before anybody decided. */
  | 'undecided-and-failed'

/**
 * Whether we were right with a proposal. A yes is one that stood when the work was done.
 *
 * @param acts with the day of each, in their order, the undone ones left out
 * @returns null for one that is still open and has not failed, or was dropped
 */
export function verdictOn(
  job: ProposedJob,
  acts: readonly (ProposalAct & { day: Day })[],
  repairs: readonly Work[],
): Verdict | null {
  const { state, found, doneOn } = standingOf(job, acts, repairs)
  if (state === 'dropped') return null
  const decided = acts.findLast(({ act, day }) => act !== 'told' && (doneOn === null || day <= doneOn))?.act
  const saidNo = decided === 'declined' || decided === 'put-off'
  if (state !== 'done' && state !== 'found') return saidNo ? 'no-and-runs' : null
  const broke = workOn(job, repairs).some(({ found, because }) => found === 'failed' && because === 'failure')
  if (saidNo) {
    if (found === 'failed') return 'no-and-failed'
    if (found === 'developing') return 'no-and-going'
    return found === 'sound' ? 'no-and-good' : 'not-noted'
  }
  if (decided === undefined && broke) return 'undecided-and-failed'
  if (found === null) return 'not-noted'
  return found === 'sound' ? 'yes-and-good' : 'yes-and-due'
}

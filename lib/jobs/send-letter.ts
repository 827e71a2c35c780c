import { actsAfter, isOpen, standingOf } from '@/lib/decisions/proposals'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { type Proposal, readProposals } from '@/lib/store/read/proposals'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { actOnProposal } from '@/lib/store/write/act-on-proposal'
import { holdVehicle } from '@/lib/store/write/hold-vehicle'
import { makeProposals } from '@/lib/store/write/make-proposals'
import { holdLetters, type Written, writeLetter } from '@/lib/store/write/write-letter'
import type { CallRow } from './calls'
import { type Letter, type LetterJobTold, readLetter } from './letter'
import { proposalOf } from './propose-visit'

type By = { now: Date; by: string | null }

export type Sent =
  | Written
  | { ok: false; reason: 'not-now'; row: CallRow }
  | { ok: false; reason: 'other-text' }

/**
 * Notes that a letter was written: its text as it was read, and its jobs as told by letter. A job that nobody had
 * proposed is proposed with it.
 *
 * @param textOf puts the letter into words
 * @param read what stood on the page of whoever pressed: another text now is another letter
 */
export async function sendLetter(
  scope: OrganisationScope,
  {
    unit,
    read,
    textOf,
  }: { unit: string; read: string; textOf: (letter: Letter) => { text: string; mark: string } },
  { now, by }: By,
): Promise<Sent> {
  await holdLetters(scope)
  await holdVehicle(scope, unit)
  const found = await readLetter(scope, unit, now)
  if (!found) return { ok: false, reason: 'not-found' }
  const { letter, row, letterEveryDays } = found
  if (!letter) return { ok: false, reason: 'not-now', row }
  const { text, mark } = textOf(letter)
  if (mark !== read) return { ok: false, reason: 'other-text' }
  const { customer, today, jobs } = letter
  const proposalActs = await tellProposals(scope, letter, { now, by })
  const named = jobs.map(({ weakPoint, positions }) => ({ weakPoint, positions }))
  return writeLetter(
    scope,
    { unit, customer, jobs: named, content: text, proposalActs, today, letterEveryDays },
    { now, by },
  )
}

/** @returns the acts by which the letter's jobs are noted as told */
async function tellProposals(scope: OrganisationScope, letter: Letter, by: By): Promise<string[]> {
  const { unit, jobs, customer } = letter
  const standing = await readProposals(scope, { unit })
  const stand = (job: LetterJobTold) => standing.filter((proposal) => isAbout(proposal, job))
  const missing = jobs.flatMap((job) => withoutThose(job, stand(job)) ?? [])
  const components = await readVehicleComponents(scope, unit, HISTORY_HORIZON_DAYS)
  const making = { unit, asOf: letter.today, today: letter.today, horizonDays: HISTORY_HORIZON_DAYS, ...by }
  const made =
    missing.length > 0
      ? await makeProposals(
          scope,
          missing.map((job) => proposalOf(job, components)),
          making,
        )
      : []
  const told = new Set([...jobs.flatMap(stand).map(({ id }) => id), ...(made ?? [])])
  const acts: string[] = []
  for (const id of told) {
    const acted = await actOnProposal(scope, id, { act: 'told', whom: customer, how: 'letter' }, by)
    if (acted.ok) acts.push(acted.id)
  }
  return acts
}

/** An open proposal for one of a job's parts that may be told. */
function isAbout(proposal: Proposal, { weakPoint, positions }: LetterJobTold): boolean {
  const standing = standingOf(proposal, proposal.acts, proposal.works)
  if (proposal.weakPoint !== weakPoint || !isOpen(standing) || !actsAfter(standing.state).includes('told'))
    return false
  return proposal.positions.length === 0 || proposal.positions.some((each) => positions.includes(each))
}

/** What of a job nobody has proposed; its money is shared out by the count of its parts. */
function withoutThose(job: LetterJobTold, standing: readonly Proposal[]): LetterJobTold | null {
  if (standing.some(({ positions }) => positions.length === 0)) return null
  const taken = new Set(standing.flatMap(({ positions }) => positions))
  const positions = job.positions.filter((each) => !taken.has(each))
  if (positions.length === 0) return null
  const share = positions.length / job.positions.length
  const { price, hours, gain, low, high } = job
  return {
    ...{ ...job, positions, price: price * share, hours: hours * share },
    ...{ gain: gain * share, low: low * share, high: high * share },
  }
}

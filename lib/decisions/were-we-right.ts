/** How proposals turned out: who said yes to what was due, and who said no to what then failed. */
import type { Day } from '@/lib/units/dates'
import { type ProposalAct, type ProposedJob, type Verdict, verdictOn, type Work, workOn } from './proposals'

/** A proposal as far as it is judged. */
export type JudgedProposal = ProposedJob & {
  /** The chance of each position within the horizon, as it was thought then. */
  chances: readonly { pFail: number }[]
  horizonDays: number
  acts: readonly (ProposalAct & { day: Day })[]
  works: readonly Work[]
}

export type Turnout = {
  /** How many turned out how. */
  verdicts: Record<Verdict, number>
  /** Of those to which nobody said yes, made at least their horizon ago: how many there are, were expected to fail within it, and did. */
  refused: { count: number; expected: number; failed: number }
}

/**
 * Counts how proposals turned out, by group.
 *
 * Expected is Σ (1 − Π (1 − p)) over the proposals, positions taken as independent; no chance is looked at again with
 * what is known now.
 *
 * @param groupOf in which group one counts; null: in none
 */
export function howTheyTurnedOut<P extends JudgedProposal>(
  proposals: readonly P[],
  groupOf: (proposal: P) => string | null,
  today: Day,
): Map<string, Turnout> {
  const groups = new Map<string, Turnout>()
  for (const proposal of proposals) {
    const group = groupOf(proposal)
    const verdict = verdictOn(proposal, proposal.acts, proposal.works)
    if (group === null || verdict === null) continue
    const turnout = groups.get(group) ?? {
      verdicts: noVerdicts(),
      refused: { count: 0, expected: 0, failed: 0 },
    }
    groups.set(group, turnout)
    turnout.verdicts[verdict]++
    if (NOT_TAKEN.has(verdict) && proposal.madeOn + proposal.horizonDays <= today) count(turnout, proposal)
  }
  return groups
}

const NOT_TAKEN: ReadonlySet<Verdict> = new Set([
  'no-and-failed',
  'no-and-going',
  'no-and-good',
  'no-and-runs',
  'undecided-and-failed',
])

function count({ refused }: Turnout, proposal: JudgedProposal): void {
  const { chances, horizonDays, madeOn, works } = proposal
  refused.count++
  refused.expected += 1 - chances.reduce((none, { pFail }) => none * (1 - pFail), 1)
  const failed = workOn(proposal, works).some(
    ({ found, doneOn }) => found === 'failed' && doneOn <= madeOn + horizonDays,
  )
  if (failed) refused.failed++
}

const noVerdicts = (): Record<Verdict, number> => ({
  'yes-and-due': 0,
  'yes-and-good': 0,
  'not-noted': 0,
  'no-and-failed': 0,
  'no-and-going': 0,
  'no-and-good': 0,
  'no-and-runs': 0,
  'undecided-and-failed': 0,
})
